// The ohms of a defrost timer's motor. A good winding clears the winding only: gears strip and contacts burn behind it.

import { mainsOf, type MainsSystem } from './mains.js';
import { numberOf } from './numbers.js';
import { expectedOhm, OHM_NUMBERS, placeOhm, seen, weightsOhm, type OhmBand } from './ohms.js';
import type { Expectation, Judge, Setting } from './opinion.js';

interface Motor {
  readonly against: Expectation['against'];
  readonly band: OhmBand;
  /** the usual range on the other mains system, where the unit's own is known */
  readonly otherSystem: OhmBand | null;
}

function motorOf(setting: Setting): Motor {
  const { reading, given, others } = setting;
  const earlier = others.findLast((m) => m.part === given.part && m.quantity === given.quantity && m.sheet !== null);
  const sheet = given.sheet ?? earlier?.sheet;
  if (sheet) {
    const strays = 1 + numberOf(reading, 'sheet-percent', '%') / 100;
    const band = {
      lowOhm: sheet.value / strays,
      highOhm: sheet.value * strays,
      flat: false,
      common: false,
      thermometer: 0,
    };
    return { against: given.sheet ? 'sheet' : 'case', band, otherSystem: null };
  }
  const usual = (from: MainsSystem['name'], to: MainsSystem['name']): OhmBand => ({
    lowOhm: numberOf(reading, `typical-low-${from}`, 'ohm'),
    highOhm: numberOf(reading, `typical-high-${to}`, 'ohm'),
    flat: true,
    common: true,
    thermometer: 0,
  });
  const system = mainsOf(setting).system?.name;
  const band = system ? usual(system, system) : usual('us', 'eu');
  const other = system === 'us' ? 'eu' : 'us';
  return { against: 'common-practice', band, otherSystem: system ? usual(other, other) : null };
}

export const timerMotorResistance: Judge = {
  id: 'timer-motor-resistance',
  states: ['sound', 'open', 'shorted'],
  numbers: {
    ...OHM_NUMBERS,
    leads: 'ohm',
    'typical-low-us': 'ohm',
    'typical-high-us': 'ohm',
    'typical-low-eu': 'ohm',
    'typical-high-eu': 'ohm',
    'sheet-percent': '%',
  },
  outcomes: [
    'expect',
    'good',
    'bad-open',
    'bad-short',
    'bad-low',
    'bad-high',
    'inconclusive-band',
    'inconclusive-system',
  ],
  expects(setting) {
    const { against, band } = motorOf(setting);
    return { expected: expectedOhm(setting.reading, band), against, outcome: 'expect' };
  },
  judges(setting, value) {
    const { reading } = setting;
    const { against, band, otherSystem } = motorOf(setting);
    const what = seen(reading, value);
    const { sound, open, shorted } = weightsOhm(reading, band, what);
    const base = { expected: expectedOhm(reading, band), against, weights: { sound, open, shorted }, asks: null };
    if (what.kind === 'open') return { ...base, verdict: 'bad', outcome: 'bad-open' };
    if (what.kind === 'short') return { ...base, verdict: 'bad', outcome: 'bad-short' };
    const { verdict, side } = placeOhm(reading, band, what.ohm);
    if (verdict === 'good') return { ...base, verdict, outcome: 'good' };
    if (otherSystem && placeOhm(reading, otherSystem, what.ohm).side === 'inside')
      return { ...base, verdict: 'inconclusive', outcome: 'inconclusive-system' };
    if (verdict === 'inconclusive') return { ...base, verdict, outcome: 'inconclusive-band' };
    return { ...base, verdict, outcome: side === 'below' ? 'bad-low' : 'bad-high' };
  },
};
