/** Who waits for whom: what belongs to one place goes in order, and a turn of a case waits while taps are acknowledged. */

/** A turn is not put off for longer than this, in milliseconds. */
const PATIENCE_MS = 50;

export class Work {
  private readonly begun = new Set<Promise<unknown>>();
  private readonly lines = new Map<string, Promise<unknown>>();
  private unacknowledged = 0;
  private drained: (() => void)[] = [];
  private turns: Promise<unknown> = Promise.resolve();

  /** Something that was heard: it is waited for at the end. */
  begin(job: Promise<unknown>): void {
    this.begun.add(job);
    void job.finally(() => this.begun.delete(job));
  }

  /** After everything that was begun for this place before. */
  inOrder(place: string, job: () => Promise<void>): Promise<void> {
    const before = this.lines.get(place) ?? Promise.resolve();
    const line = before.then(job, job);
    this.lines.set(place, line);
    const clear = (): void => void (this.lines.get(place) === line && this.lines.delete(place));
    line.then(clear, clear);
    return line;
  }

  /** One at a time; each takes milliseconds, in which nothing else is heard. */
  turn<T>(job: () => T): Promise<T> {
    const next = this.turns.then(async () => {
      await new Promise(setImmediate);
      if (this.unacknowledged > 0) await this.quiet();
      return job();
    });
    this.turns = next.catch(() => undefined);
    return next;
  }

  async acknowledging<T>(ack: () => Promise<T>): Promise<T> {
    this.unacknowledged += 1;
    try {
      return await ack();
    } finally {
      this.unacknowledged -= 1;
      if (this.unacknowledged === 0) for (const done of this.drained.splice(0)) done();
    }
  }

  /** Until everything that was begun is done. */
  async idle(): Promise<void> {
    while (this.lines.size + this.begun.size > 0) await Promise.allSettled([...this.lines.values(), ...this.begun]);
    await this.turns;
  }

  private quiet(): Promise<void> {
    return new Promise((resolve) => {
      const late = setTimeout(resolve, PATIENCE_MS);
      this.drained.push(() => (clearTimeout(late), resolve()));
    });
  }
}
