/** Times of one kind, in milliseconds, and what is told of them. */
export interface Figures {
  readonly n: number;
  readonly median: number;
  readonly p99: number;
}

export function figuresOf(times: readonly number[]): Figures {
  const sorted = [...times].sort((a, b) => a - b);
  const at = (share: number): number => sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? NaN;
  return { n: sorted.length, median: at(0.5), p99: at(0.99) };
}

/** How long `work` takes, and what it gives. */
export function timed<T>(work: () => T): { readonly ms: number; readonly result: T } {
  const start = process.hrtime.bigint();
  const result = work();
  return { ms: Number(process.hrtime.bigint() - start) / 1e6, result };
}

/** For what is shorter than the clock can see: the mean of a batch, many batches. */
export function batched(work: () => unknown, batches: number, each: number): number[] {
  const times: number[] = [];
  for (let b = 0; b < batches; b += 1) {
    let kept: unknown;
    const { ms } = timed(() => {
      for (let i = 0; i < each; i += 1) kept = work();
    });
    if (kept === batched) throw new Error('the work was left out');
    times.push(ms / each);
  }
  return times;
}
