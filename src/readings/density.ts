// Probability densities of what a meter shows, for one state of a part. Each integrates to 1 over its axis; an axis is
// ln ohm, volts, amperes, degC, % or metres, as the judge chooses.

const ROOT_TWO_PI = Math.sqrt(2 * Math.PI);

const bell = (z: number): number => Math.exp((-z * z) / 2) / ROOT_TWO_PI;

/**
 * The share of a standard normal below `z`. Abramowitz & Stegun, Handbook of Mathematical Functions, 26.2.17: wrong by
 * less than 7.5e-8.
 */
export function below(z: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(z));
  const series = t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  const tail = bell(z) * series;
  return z > 0 ? 1 - tail : tail;
}

/** Normal density; `sigma` above 0, in the unit of the axis. */
export const normal = (x: number, mean: number, sigma: number): number => bell((x - mean) / sigma) / sigma;

/** Anywhere from `low` to `high` with equal chance. */
export const uniform = (x: number, low: number, high: number): number => (x >= low && x <= high ? 1 / (high - low) : 0);

/** The same read with a normal error: flat inside, with shoulders as wide as the error. */
export function smeared(x: number, low: number, high: number, sigma: number): number {
  return Math.max(0, below((x - low) / sigma) - below((x - high) / sigma)) / (high - low);
}

/** Heavy-tailed: half of it within `scale` of the centre, some of it very far away (Cauchy). */
export function heavyTailed(x: number, centre: number, scale: number): number {
  const z = (x - centre) / scale;
  return 1 / (Math.PI * scale * (1 + z * z));
}

/** The chance that a threshold, somewhere from `low` to `high` with equal chance, lies below `x` read with an error. */
export function thresholdBelow(x: number, low: number, high: number, sigma: number): number {
  if (high - low < 1e-9) return below((x - low) / sigma);
  const area = (z: number): number => z * below(z) + bell(z);
  const share = (sigma * (area((x - low) / sigma) - area((x - high) / sigma))) / (high - low);
  return Math.min(1, Math.max(0, share));
}
