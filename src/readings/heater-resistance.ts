// The defrost heater's ohms, unplugged and out of its circuit.

import { heaterBand, HEATER_NUMBERS, type HeaterBand } from './heater-rating.js';
import { numberOf } from './numbers.js';
import { expectedOhm, OHM_NUMBERS, placeOhm, seen, weightsOhm } from './ohms.js';
import { CONTRADICTING, type Judge, type Setting } from './opinion.js';

export const heaterResistance: Judge = {
  id: 'heater-resistance',
  states: ['sound', 'open', 'shorted', 'off-value'],
  numbers: { ...OHM_NUMBERS, ...HEATER_NUMBERS, leads: 'ohm', 'off-value-spread': 'ratio' },
  outcomes: [
    'expect',
    'good',
    'bad-open',
    'bad-short',
    'bad-low',
    'bad-high',
    'bad-system',
    'inconclusive-band',
    'inconclusive-system',
    ...CONTRADICTING,
  ],
  expects(setting) {
    const { against, band } = heaterBand(setting);
    return { expected: expectedOhm(setting.reading, band), against, outcome: 'expect' };
  },
  judges(setting, value) {
    const { reading } = setting;
    const heater = heaterBand(setting);
    const { against, band } = heater;
    const what = seen(reading, value);
    const { sound, drifted, open, shorted } = weightsOhm(
      reading,
      band,
      what,
      numberOf(reading, 'off-value-spread', 'ratio'),
    );
    const weights = { sound, 'off-value': drifted, open, shorted };
    const base = { expected: expectedOhm(reading, band), against, weights, asks: null };
    // Megohms are dirt across a break, and no heater.
    if (what.kind === 'open') return { ...base, verdict: 'bad', outcome: 'bad-open' };
    if (what.kind === 'short') return { ...base, verdict: 'bad', outcome: 'bad-short' };
    const { verdict, side } = placeOhm(reading, band, what.ohm);
    if (side === 'inside') return { ...base, verdict, outcome: 'good' };
    if (madeForOther(setting, heater, what.ohm)) {
      const fromCase = against === 'common-practice' ? 'case' : against;
      return { ...base, verdict, against: fromCase, outcome: verdict === 'bad' ? 'bad-system' : 'inconclusive-system' };
    }
    if (verdict !== 'bad') return { ...base, verdict, outcome: 'inconclusive-band' };
    return { ...base, verdict, outcome: side === 'below' ? 'bad-low' : 'bad-high' };
  },
};

/** Outside what this mains asks for, but just right for a heater of the other one. */
const madeForOther = ({ reading }: Setting, { otherSystem }: HeaterBand, ohm: number): boolean =>
  otherSystem !== null && placeOhm(reading, otherSystem, ohm).side === 'inside';
