// A resistance against a band: short, open, or a number between, on the axis ln ohm. Shared by the judges of heaters,
// sensors and motors; each brings its own band.

import type { Reading } from '../knowledge/facts.js';
import type { Expected } from '../message/outgoing.js';
import { place, widened, type Band } from './band.js';
import { heavyTailed, normal, smeared, uniform } from './density.js';
import { meterError } from './mains.js';
import { numberIf, numberOf } from './numbers.js';

/** Numbers that every judge of a resistance needs. */
export const OHM_NUMBERS = {
  'meter-percent': '%',
  'meter-floor': 'ohm',
  'meter-wrong': 'ratio',
  'short-below': 'ohm',
  'open-above': 'ohm',
  'outside-factor': 'ratio',
} as const;

/** The band of a good part in ohm. */
export interface OhmBand {
  readonly lowOhm: number;
  readonly highOhm: number;
  /** anywhere in it is as likely: parts of several kinds, or all the curves through a point; else a tolerance around its middle */
  readonly flat: boolean;
  /** common practice: bad only when the number `outside-factor` times beyond it */
  readonly common: boolean;
  /** standard uncertainty of ln R from the thermometer, 0 for a part that does not mind its temperature */
  readonly thermometer: number;
}

export type Seen =
  { readonly kind: 'open' } | { readonly kind: 'short' } | { readonly kind: 'ohms'; readonly ohm: number };

/** Over-limit and megohms of dirt are open; less than the leads themselves is short. */
export function seen(reading: Reading, value: number | string): Seen {
  if (typeof value !== 'number' || value >= numberOf(reading, 'open-above', 'ohm')) return { kind: 'open' };
  return value <= numberOf(reading, 'short-below', 'ohm') ? { kind: 'short' } : { kind: 'ohms', ohm: value };
}

/** The band on the axis ln ohm with the uncertainty of meter, leads and thermometer at a resistance. */
function logBand(reading: Reading, band: OhmBand, atOhm: number): Band {
  const meter = meterError(reading, atOhm, 'ohm') / atOhm;
  const leads = (numberIf(reading, 'leads', 'ohm') ?? 0) / 2 / atOhm;
  return {
    low: Math.log(band.lowOhm),
    high: Math.log(band.highOhm),
    uncertainty: Math.hypot(meter, leads, band.thermometer),
  };
}

/** What a good part may show, ohm. */
export function expectedOhm(reading: Reading, band: OhmBand): Expected {
  const { low, high } = widened(logBand(reading, band, Math.sqrt(band.lowOhm * band.highOhm)));
  return { low: Math.exp(low), high: Math.exp(high), unit: 'ohm' };
}

/** Verdict and side; common practice calls bad only what is a factor outside it. */
export function placeOhm(reading: Reading, band: OhmBand, ohm: number): ReturnType<typeof place> {
  const least = band.common ? Math.log(numberOf(reading, 'outside-factor', 'ratio')) : 0;
  // The widening is that of the band, so that a value is good exactly where it lies in what was expected.
  return place(Math.log(ohm), logBand(reading, band, Math.sqrt(band.lowOhm * band.highOhm)), least);
}

/** How likely what was seen is in a sound part, a drifted one, an open one and a shorted one; densities in 1/ln ohm. */
export interface OhmWeights {
  readonly sound: number;
  readonly drifted: number;
  readonly open: number;
  readonly shorted: number;
}

/**
 * Whatever the part is, a probe slips or a range is misread with the chance `meter-wrong`: a third of it shows open, a third
 * short, a third anything. Besides: a sound part is normal in ln R over its tolerance, or flat over its band; a
 * drifted one is anywhere, more often near, half of those within the factor `spread`; open and short show as they are.
 */
export function weightsOhm(reading: Reading, band: OhmBand, what: Seen, spread = 2): OhmWeights {
  const slip = numberOf(reading, 'meter-wrong', 'ratio');
  if (what.kind === 'open') return { sound: slip / 3, drifted: slip / 3, open: 1 - (2 * slip) / 3, shorted: slip / 3 };
  if (what.kind === 'short') return { sound: slip / 3, drifted: slip / 3, open: slip / 3, shorted: 1 - (2 * slip) / 3 };
  const x = Math.log(what.ohm);
  const from = Math.log(numberOf(reading, 'short-below', 'ohm'));
  const anything = (slip / 3) * uniform(x, from, Math.log(numberOf(reading, 'open-above', 'ohm')));
  const sound = soundDensity(x, logBand(reading, band, what.ohm), band.flat);
  const drifted = driftedDensity(x, reading, band, spread);
  return {
    sound: (1 - slip) * sound + anything,
    drifted: (1 - slip) * drifted + anything,
    open: anything,
    shorted: anything,
  };
}

function soundDensity(x: number, { low, high, uncertainty }: Band, flat: boolean): number {
  if (flat) return smeared(x, low, high, uncertainty);
  // The tolerance of the part is two standard deviations, as the uncertainties are.
  return normal(x, (low + high) / 2, Math.hypot((high - low) / 4, uncertainty));
}

function driftedDensity(x: number, reading: Reading, band: OhmBand, spread: number): number {
  const centre = Math.log(band.lowOhm * band.highOhm) / 2;
  const scale = Math.log(spread) + Math.log(band.highOhm / band.lowOhm) / 2;
  const low = Math.log(numberOf(reading, 'short-below', 'ohm'));
  const high = Math.log(numberOf(reading, 'open-above', 'ohm'));
  return 0.5 * heavyTailed(x, centre, scale) + 0.5 * uniform(x, low, high);
}
