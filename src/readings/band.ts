// The verdict of a value against a band, by one rule for every judge.

import type { Verdict } from '../message/outgoing.js';

/** A band on a judge's axis (ln ohm, V, A, degC, %, m) and the standard uncertainty of the value on the same axis. */
export interface Band {
  readonly low: number;
  readonly high: number;
  readonly uncertainty: number;
}

export type Side = 'inside' | 'below' | 'above';

/** How sure good and bad have to be: two standard uncertainties (coverage factor k = 2 of the GUM). */
const COVERAGE = 2;

/** What a good part may show on this meter: the band widened by k = 2. */
export function widened({ low, high, uncertainty }: Band): { readonly low: number; readonly high: number } {
  return { low: low - COVERAGE * uncertainty, high: high + COVERAGE * uncertainty };
}

/**
 * `good` inside the widened band, `bad` outside it by more than the widening again, else `inconclusive`.
 * @param least how far outside the band a value must be, at least, to be called bad; for wide bands of common practice
 */
export function place(value: number, band: Band, least = 0): { readonly verdict: Verdict; readonly side: Side } {
  const good = widened(band);
  if (value >= good.low && value <= good.high) return { verdict: 'good', side: 'inside' };
  const side = value < good.low ? 'below' : 'above';
  const outside = side === 'below' ? band.low - value : value - band.high;
  const bad = outside > Math.max(2 * COVERAGE * band.uncertainty, least);
  return { verdict: bad ? 'bad' : 'inconclusive', side };
}
