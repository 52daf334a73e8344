// The defrost heater's current on a clamp. It flows only while a defrost is called for, the coil is cold and the supply
// is there; 0 A at any other time is what a sound heater shows for 23 hours a day.

import { drawnCurrentA } from '../physics/resistor.js';
import { place, widened, type Band } from './band.js';
import { outputLive } from './circuit.js';
import { defrostCalled, justThawed } from './conditions.js';
import { normal, smeared, uniform } from './density.js';
import { heaterBand } from './heater-rating.js';
import { meterError, systemsOf, type Mains } from './mains.js';
import { numberOf } from './numbers.js';
import { CONTRADICTING, tellsNothing, type Expectation, type Judge, type Opinion, type Setting } from './opinion.js';

interface Flow {
  readonly band: Band;
  readonly against: Expectation['against'];
  readonly common: boolean;
  readonly mains: Mains;
}

/** The band in A: the sheet's, or the volts of the outlet over the ohms of the heater. */
function flowOf(setting: Setting): Flow {
  const { knowledge, reading, given } = setting;
  const { band, against, mains } = heaterBand(setting);
  const from = (low: number, high: number): Band => ({
    low,
    high,
    uncertainty: meterError(reading, Math.sqrt(low * high), 'A'),
  });
  if (given.sheet) {
    const strays = 1 + numberOf(reading, 'sheet-percent', '%') / 100;
    return {
      band: from(given.sheet.value / strays, given.sheet.value * strays),
      against: 'sheet',
      common: false,
      mains,
    };
  }
  const known = mains.measuredV !== undefined && !mains.tooLow ? mains.measuredV : undefined;
  // A heater of few ohms is made for the lower system, one of many for the higher: never the one's ohms on the other.
  const [us, eu] = mains.system ? [mains.system, mains.system] : systemsOf(knowledge);
  const low = drawnCurrentA(band.highOhm, known ?? (band.common ? eu : us).tolerable.lowV);
  const high = drawnCurrentA(band.lowOhm, known ?? us.tolerable.highV);
  return { band: from(low, high), against, common: band.common, mains };
}

function expectationOf({ band, against }: Flow): Expectation {
  const { low, high } = widened(band);
  return { expected: { low: Math.max(0, low), high, unit: 'A' }, against, outcome: 'expect' };
}

/** Densities on the axis A; none is a heap at 0. A slip (wrong range, both wires in the clamp) may show anything. */
function weights({ reading }: Setting, { band, common }: Flow, amps: number): Opinion['weights'] {
  const slip = numberOf(reading, 'meter-wrong', 'ratio');
  const none = numberOf(reading, 'none-below', 'A');
  const most = 10 * band.high;
  const anything = uniform(Math.min(amps, most), 0, most);
  const heap = 2 * normal(amps, 0, none / 2);
  const u = meterError(reading, amps, 'A');
  const flowing = common
    ? smeared(amps, band.low, band.high, u)
    : normal(amps, (band.low + band.high) / 2, Math.hypot((band.high - band.low) / 4, u));
  const low = smeared(amps, Math.min(none, band.low / 2), band.low, u);
  const slipped = (slip / 2) * heap + (slip / 2) * anything;
  return {
    flowing: (1 - slip) * flowing + slipped,
    low: (1 - slip) * low + slipped,
    none: (1 - slip) * heap + slip * anything,
  };
}

export const heaterCurrent: Judge = {
  id: 'heater-current',
  states: ['flowing', 'none', 'low'],
  numbers: {
    'meter-percent': '%',
    'meter-floor': 'A',
    'meter-wrong': 'ratio',
    'none-below': 'A',
    'sheet-percent': '%',
    'outside-factor': 'ratio',
    'called-within': 'min',
  },
  outcomes: [
    'expect',
    'good',
    'bad-none',
    'bad-low',
    'bad-high',
    'inconclusive-band',
    'inconclusive-not-called',
    'inconclusive-warm',
    'inconclusive-supply',
    ...CONTRADICTING,
  ],
  expects: (setting) => expectationOf(flowOf(setting)),
  judges(setting, value) {
    const { reading } = setting;
    const flow = flowOf(setting);
    const expectation = expectationOf(flow);
    const amps = typeof value === 'number' ? value : 0;
    const flows = amps >= numberOf(reading, 'none-below', 'A');
    if (flow.mains.tooLow) return tellsNothing(expectation, 'inconclusive-supply');
    if (!flows && !isCalled(setting)) return tellsNothing(expectation, 'inconclusive-not-called');
    if (!flows && justThawed(setting.state)) return tellsNothing(expectation, 'inconclusive-warm');
    const { expected, against } = expectation;
    const base = { expected, against, weights: weights(setting, flow, amps), asks: null };
    if (!flows) return { ...base, verdict: 'bad', outcome: 'bad-none' };
    const { verdict, side } = place(amps, flow.band, leastOutside(setting, flow, amps));
    if (verdict === 'good') return { ...base, verdict, outcome: 'good' };
    if (verdict === 'inconclusive') return { ...base, verdict, outcome: 'inconclusive-band' };
    return { ...base, verdict, outcome: side === 'below' ? 'bad-low' : 'bad-high' };
  },
};

/** In A: common practice calls bad only what is a factor outside its band. */
function leastOutside({ reading }: Setting, { band, common }: Flow, amps: number): number {
  if (!common) return 0;
  const factor = numberOf(reading, 'outside-factor', 'ratio');
  return amps < band.low ? band.low * (1 - 1 / factor) : band.high * (factor - 1);
}

/** A defrost forced just now, or volts leaving the timer or the control. */
function isCalled(setting: Setting): boolean {
  const minutes = numberOf(setting.reading, 'called-within', 'min');
  return defrostCalled(setting, minutes) || outputLive(setting, minutes) === 'live';
}
