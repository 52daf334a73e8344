// The humidity of the room: a circumstance, never bad, that feeds frost through every door opening and every leak. What
// counts is the water it brings in, so the states are those of an ordinary kitchen that brings as much.

import { place, widened, type Band } from './band.js';
import type { Expectation, Judge, Setting } from './opinion.js';
import { rangeNumbers, rangeWeights, soundBand, type Scale } from './ranges.js';
import { roomWater, ROOM_WATER_NUMBERS, type RoomWater } from './room-water.js';

const scale: Scale = { unit: '%', difference: '%', instrument: 'hygrometer' };

/** What is ordinary in this room: at its temperature, as much water as in an ordinary kitchen. */
function bandOf({ reading }: Setting, water: RoomWater): Band {
  const { low, high, uncertainty } = soundBand(reading, scale);
  return { low: water.fromKitchen(low), high: water.fromKitchen(high), uncertainty };
}

function expectationOf(band: Band): Expectation {
  const { low, high } = widened(band);
  const expected = { low: Math.max(0, low), high: Math.min(100, high), unit: scale.unit };
  return { expected, against: 'common-practice', outcome: 'expect' };
}

export const relativeHumidity: Judge = {
  id: 'relative-humidity',
  states: null,
  numbers: { spread: '%', hygrometer: '%', 'meter-wrong': 'ratio', ...ROOM_WATER_NUMBERS },
  outcomes: ['expect', 'good', 'inconclusive-dry', 'inconclusive-humid'],
  also: (reading) => ({ numbers: rangeNumbers(reading, scale), outcomes: [] }),
  expects: (setting) => expectationOf(bandOf(setting, roomWater(setting))),
  judges(setting, value) {
    const percent = typeof value === 'number' ? value : 0;
    const water = roomWater(setting);
    const band = bandOf(setting, water);
    const { expected, against } = expectationOf(band);
    const base = {
      expected,
      against,
      weights: rangeWeights(setting.reading, scale, water.inKitchen(percent)),
      asks: null,
      more: {
        times: { value: water.times(percent), as: 'number' },
        dew: { value: water.dewC(percent), as: 'temperature' },
      },
    } as const;
    const { side } = place(percent, band);
    if (side === 'inside') return { ...base, verdict: 'good', outcome: 'good' };
    return { ...base, verdict: 'inconclusive', outcome: side === 'below' ? 'inconclusive-dry' : 'inconclusive-humid' };
  },
};
