// How thick the frost is: a circumstance, never bad. It says how long a thaw takes, and a little about how it came.

import type { Judge } from './opinion.js';
import { placeInRange, rangeExpectation, rangeNumbers, rangeWeights, type Scale } from './ranges.js';

const scale: Scale = { unit: 'm', difference: 'm', instrument: 'ruler' };

export const thickness: Judge = {
  id: 'thickness',
  states: null,
  numbers: { spread: 'm', ruler: 'm', 'meter-wrong': 'ratio' },
  outcomes: ['expect', 'good', 'inconclusive-heavy'],
  also: (reading) => ({ numbers: rangeNumbers(reading, scale), outcomes: [] }),
  expects: ({ reading }) => rangeExpectation(reading, scale),
  judges({ reading }, value) {
    const metres = typeof value === 'number' ? value : 0;
    const { expected, against } = rangeExpectation(reading, scale);
    const base = { expected, against, weights: rangeWeights(reading, scale, metres), asks: null };
    const { side } = placeInRange(reading, scale, metres, 0);
    if (side === 'inside') return { ...base, verdict: 'good', outcome: 'good' };
    return { ...base, verdict: 'inconclusive', outcome: 'inconclusive-heavy' };
  },
};
