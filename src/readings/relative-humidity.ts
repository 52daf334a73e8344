// The humidity of the room: a circumstance, never bad, that feeds frost through every door opening and every leak.

import type { Judge } from './opinion.js';
import { placeInRange, rangeExpectation, rangeNumbers, rangeWeights, type Scale } from './ranges.js';

const scale: Scale = { unit: '%', difference: '%', instrument: 'hygrometer' };

export const relativeHumidity: Judge = {
  id: 'relative-humidity',
  states: null,
  numbers: { spread: '%', hygrometer: '%', 'meter-wrong': 'ratio' },
  outcomes: ['expect', 'good', 'inconclusive-dry', 'inconclusive-humid'],
  also: (reading) => ({ numbers: rangeNumbers(reading, scale), outcomes: [] }),
  expects: ({ reading }) => rangeExpectation(reading, scale),
  judges({ reading }, value) {
    const percent = typeof value === 'number' ? value : 0;
    const { expected, against } = rangeExpectation(reading, scale);
    const base = { expected, against, weights: rangeWeights(reading, scale, percent), asks: null };
    const { side } = placeInRange(reading, scale, percent, 0);
    if (side === 'inside') return { ...base, verdict: 'good', outcome: 'good' };
    return { ...base, verdict: 'inconclusive', outcome: side === 'below' ? 'inconclusive-dry' : 'inconclusive-humid' };
  },
};
