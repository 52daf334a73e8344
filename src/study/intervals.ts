/** How sure a figure is: 95 % intervals of means, of the lead of one policy over another, and of shares that hardly occur. */

const Z95 = 1.959964;

export interface Mean {
  readonly mean: number;
  /** half the width of the 95 % interval */
  readonly within: number;
}

export function meanOf(numbers: readonly number[]): Mean {
  const n = numbers.length;
  const mean = numbers.reduce((s, x) => s + x, 0) / n;
  const squares = numbers.reduce((s, x) => s + (x - mean) ** 2, 0);
  return { mean, within: n > 1 ? Z95 * Math.sqrt(squares / (n - 1) / n) : 0 };
}

/** 1 - mean of `ours` by mean of `theirs` on the same callers, with its interval by the delta method. */
export function leadOf(ours: readonly number[], theirs: readonly number[]): Mean {
  const [mine, other] = [meanOf(ours).mean, meanOf(theirs).mean];
  const ratio = mine / other;
  const { within } = meanOf(ours.map((x, i) => (x - ratio * theirs[i]!) / other));
  return { mean: 1 - ratio, within };
}

/**
 * The exact upper bound of a share of which `hits` of `n` were seen (Clopper and Pearson 1934, Biometrika 26): the share
 * with which so few or fewer are seen with a chance of 5 %, one-sided.
 */
export function upperBound(hits: number, n: number, chance = 0.05): number {
  if (hits >= n) return 1;
  let [low, high] = [hits / n, 1];
  while (high - low > 1e-12) {
    const middle = (low + high) / 2;
    if (atMost(hits, n, middle) > chance) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** P(at most `hits` of `n`) where each comes with chance `p`. */
function atMost(hits: number, n: number, p: number): number {
  let log = n * Math.log1p(-p);
  let sum = Math.exp(log);
  for (let k = 1; k <= hits; k += 1) {
    log += Math.log((n - k + 1) / k) + Math.log(p) - Math.log1p(-p);
    sum += Math.exp(log);
  }
  return sum;
}
