// A value whose states are ranges of it: a temperature, a humidity, a thickness. The knowledge folder gives each state
// its range (`warm-from`, `warm-to`) and how far a unit in one state strays beyond it (`spread`).

import type { Reading } from '../knowledge/facts.js';
import { place, widened, type Band, type Side } from './band.js';
import { smeared, uniform } from './density.js';
import { numberOf } from './numbers.js';
import type { Expectation, Judge, Opinion } from './opinion.js';

/** What a judge of ranges reads: the SI unit, the unit of a difference, and the number that is its instrument's limit. */
export interface Scale {
  readonly unit: 'degC' | '%' | 'm';
  readonly difference: 'K' | '%' | 'm';
  readonly instrument: string;
}

interface Range {
  readonly state: string;
  readonly from: number;
  readonly to: number;
}

/** The two ends of every state's range. */
export const rangeNumbers = (reading: Reading, { unit }: Scale): Judge['numbers'] =>
  Object.fromEntries(
    reading.values.flatMap((state) => [
      [`${state}-from`, unit],
      [`${state}-to`, unit],
    ]),
  );

const rangeOf = (reading: Reading, { unit }: Scale, state: string): Range => ({
  state,
  from: numberOf(reading, `${state}-from`, unit),
  to: numberOf(reading, `${state}-to`, unit),
});

/** The range of a sound unit, with the instrument's uncertainty; its limits are taken as k = 2. */
export function soundBand(reading: Reading, scale: Scale): Band {
  const { from, to } = rangeOf(reading, scale, reading.values[reading.healthy] ?? '');
  return { low: from, high: to, uncertainty: numberOf(reading, scale.instrument, scale.difference) / 2 };
}

export function rangeExpectation(reading: Reading, scale: Scale): Expectation {
  const { low, high } = widened(soundBand(reading, scale));
  const least = scale.unit === 'degC' ? -Infinity : 0;
  const expected = {
    low: Math.max(least, low),
    high: scale.unit === '%' ? Math.min(100, high) : high,
    unit: scale.unit,
  };
  return { expected, against: 'common-practice', outcome: 'expect' };
}

/** Where a value lies; `least` is how far outside the range, at least, it must be to be called bad. */
export const placeInRange = (
  reading: Reading,
  scale: Scale,
  value: number,
  least: number,
): { verdict: Opinion['verdict']; side: Side } => place(value, soundBand(reading, scale), least);

/** Densities of a value under each state, in 1/unit; a value beyond all ranges counts as at the end of the last. */
export function rangeWeights(reading: Reading, scale: Scale, value: number): Record<string, number> {
  const ranges = reading.values.map((state) => rangeOf(reading, scale, state));
  const lowest = Math.min(...ranges.map((r) => r.from));
  const highest = Math.max(...ranges.map((r) => r.to));
  const x = Math.min(Math.max(value, lowest), highest);
  const wrong = numberOf(reading, 'meter-wrong', 'ratio');
  const sigma = Math.hypot(
    numberOf(reading, 'spread', scale.difference),
    numberOf(reading, scale.instrument, scale.difference) / 2,
  );
  const anything = wrong * uniform(x, lowest, highest);
  return Object.fromEntries(
    ranges.map(({ state, from, to }) => [state, (1 - wrong) * smeared(x, from, to, sigma) + anything]),
  );
}
