/** How far a measured share can be off. Exact binomial limits; nothing is assumed normal. */

export interface Interval {
  readonly low: number;
  readonly high: number;
}

/**
 * The exact two-sided interval of a share, `hits` of `n`, by inverting the binomial tails: C. J. Clopper and
 * E. S. Pearson, "The use of confidence or fiducial limits illustrated in the case of the binomial", Biometrika 26
 * (1934) 404-413.
 * @param hits 0 to n
 * @param level confidence, 0 to 1
 */
export function clopperPearson(hits: number, n: number, level = 0.95): Interval {
  if (n === 0) return { low: 0, high: 1 };
  const tail = (1 - level) / 2;
  return {
    low: hits === 0 ? 0 : bisect((p) => atLeast(hits, n, p) - tail),
    high: hits === n ? 1 : bisect((p) => tail - (1 - atLeast(hits + 1, n, p))),
  };
}

/** The largest share of misses that is still believable at 95 % when none of `n` independent cases was missed. */
export const missedAtMost = (n: number): number => 1 - 0.05 ** (1 / n);

/** P(X >= k) of a binomial, summed in logs. */
function atLeast(k: number, n: number, p: number): number {
  if (p <= 0) return k <= 0 ? 1 : 0;
  if (p >= 1) return 1;
  let sum = 0;
  let term = 0;
  for (let i = 1; i <= n; i += 1) {
    term += Math.log((n - i + 1) / i) + Math.log(p) - Math.log1p(-p);
    if (i >= k) sum += Math.exp(term + n * Math.log1p(-p));
  }
  return k <= 0 ? 1 : Math.min(1, sum);
}

/** Where an increasing function crosses zero between 0 and 1. */
function bisect(f: (p: number) => number): number {
  let low = 0;
  let high = 1;
  for (let i = 0; i < 60; i += 1) {
    const middle = (low + high) / 2;
    if (f(middle) < 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
