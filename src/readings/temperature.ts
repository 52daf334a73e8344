// The temperature of a compartment, of the coil, or of the room. A compartment can be bad; the room is a circumstance.

import type { Reading } from '../knowledge/facts.js';
import { justThawed } from './conditions.js';
import { numberIf, numberOf } from './numbers.js';
import { tellsNothing, type Judge, type Opinion, type Setting } from './opinion.js';
import { placeInRange, rangeExpectation, rangeNumbers, rangeWeights, soundBand, type Scale } from './ranges.js';

const scale: Scale = { unit: 'degC', difference: 'K', instrument: 'thermometer' };

const LIMITS = { 'never-above': 'degC', 'too-cold-below': 'degC' } as const;

/** Where a compartment thaws; Infinity where its states do not tell. */
const thawsFrom = (reading: Reading): number => numberIf(reading, 'thawing-from', 'degC') ?? Infinity;

/** The limits beyond which a compartment is never right in steady running; null for a circumstance. */
function limitsOf(reading: Reading): { readonly above: number; readonly below: number } | null {
  const above = numberIf(reading, 'never-above', 'degC');
  return above === undefined ? null : { above, below: numberOf(reading, 'too-cold-below', 'degC') };
}

export const temperature: Judge = {
  id: 'temperature',
  states: null,
  numbers: { spread: 'K', thermometer: 'K', 'meter-wrong': 'ratio' },
  outcomes: ['expect', 'good'],
  also: (reading) => ({
    numbers: { ...rangeNumbers(reading, scale), ...(limitsOf(reading) ? LIMITS : {}) },
    outcomes: limitsOf(reading)
      ? [
          'inconclusive-band',
          'inconclusive-thawed',
          'bad-cold',
          'bad-warm',
          ...(thawsFrom(reading) < Infinity ? ['bad-thawing'] : []),
        ]
      : ['inconclusive-cold', 'inconclusive-hot'],
  }),
  expects: ({ reading }) => rangeExpectation(reading, scale),
  judges(setting, value) {
    const { reading, state } = setting;
    const limits = limitsOf(reading);
    const expectation = rangeExpectation(reading, scale);
    if (limits && justThawed(state)) return tellsNothing(expectation, 'inconclusive-thawed');
    const atC = typeof value === 'number' ? value : 0;
    return limits ? compartment(setting, atC, limits) : circumstance(setting, atC);
  },
};

function base({ reading }: Setting, atC: number): Pick<Opinion, 'expected' | 'against' | 'weights' | 'asks'> {
  const { expected, against } = rangeExpectation(reading, scale);
  return { expected, against, weights: rangeWeights(reading, scale, atC), asks: null };
}

function compartment(setting: Setting, atC: number, limits: { above: number; below: number }): Opinion {
  const { reading } = setting;
  const band = soundBand(reading, scale);
  const least = atC > band.high ? limits.above - band.high : band.low - limits.below;
  const { verdict, side } = placeInRange(reading, scale, atC, least);
  const given = base(setting, atC);
  if (verdict === 'good') return { ...given, verdict, outcome: 'good' };
  if (verdict === 'inconclusive') return { ...given, verdict, outcome: 'inconclusive-band' };
  if (side === 'below') return { ...given, verdict, outcome: 'bad-cold' };
  return { ...given, verdict, outcome: atC >= thawsFrom(reading) ? 'bad-thawing' : 'bad-warm' };
}

function circumstance(setting: Setting, atC: number): Opinion {
  const { side } = placeInRange(setting.reading, scale, atC, 0);
  const given = base(setting, atC);
  if (side === 'inside') return { ...given, verdict: 'good', outcome: 'good' };
  return { ...given, verdict: 'inconclusive', outcome: side === 'below' ? 'inconclusive-cold' : 'inconclusive-hot' };
}
