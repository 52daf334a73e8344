// The outlet's voltage against the mains system that the unit belongs to.

import { place, widened, type Band } from './band.js';
import { smeared, uniform } from './density.js';
import { meterError, ratedVoltage, systemByRating, systemByValue, systemsOf, type MainsSystem } from './mains.js';
import { numberOf } from './numbers.js';
import { CONTRADICTING, type Expectation, type Judge, type Opinion, type Setting } from './opinion.js';

interface Outlet {
  /** undefined where nothing tells and there is no voltage to go by */
  readonly system: MainsSystem | undefined;
  readonly against: Expectation['against'];
}

/** What the sheet says, then the plate, the case, and at last the value itself. */
function outletOf({ knowledge, state, given, others }: Setting, volts: number | null): Outlet {
  const family = state.family === null ? undefined : knowledge.units.get(state.family)?.heater?.voltage.value;
  const earlier = others.toReversed().flatMap((m) => ratedVoltage(m.rating) ?? [])[0];
  const ways: readonly (readonly [Expectation['against'], number | undefined])[] = [
    ['sheet', given.sheet?.value],
    ['rating', ratedVoltage(given.rating)],
    ['case', earlier],
    ['case', family],
  ];
  for (const [against, rated] of ways) {
    const system = rated === undefined ? undefined : systemByRating(knowledge, rated);
    if (system) return { against, system };
  }
  return { against: 'common-practice', system: volts === null ? undefined : systemByValue(knowledge, volts) };
}

function bandOf({ knowledge, reading }: Setting, { system }: Outlet): Band {
  const [us, eu] = systemsOf(knowledge);
  const low = (system ?? us).tolerable.lowV;
  return { low, high: (system ?? eu).tolerable.highV, uncertainty: meterError(reading, low, 'V') };
}

function expectationOf(setting: Setting, outlet: Outlet): Expectation {
  const expected = { ...widened(bandOf(setting, outlet)), unit: 'V' };
  return { expected, against: outlet.against, outcome: outlet.system ? 'expect' : 'expect-system' };
}

/** Densities on the axis V, each state over its own range. */
function weights({ reading }: Setting, band: Band, volts: number): Opinion['weights'] {
  const slip = numberOf(reading, 'meter-wrong', 'ratio');
  const absent = numberOf(reading, 'absent-below', 'V');
  const most = 2 * band.high;
  const u = meterError(reading, volts, 'V');
  const capped = Math.min(volts, most);
  const anything = slip * uniform(capped, 0, most);
  const over = (low: number, high: number): number => (1 - slip) * smeared(capped, low, high, u) + anything;
  return {
    'in-range': over(band.low, band.high),
    low: over(absent, band.low),
    high: over(band.high, most),
    absent: over(0, absent),
  };
}

/** Nothing tells the system, and the value is far from either. */
function betweenSystems({ knowledge, reading }: Setting, { against }: Outlet, volts: number): boolean {
  const [us, eu] = systemsOf(knowledge);
  const strays = 1 + numberOf(reading, 'out-of-range-spread', '%') / 100;
  return against === 'common-practice' && volts > us.tolerable.highV * strays && volts < eu.tolerable.lowV / strays;
}

export const supplyVoltage: Judge = {
  id: 'supply-voltage',
  states: ['in-range', 'low', 'high', 'absent'],
  numbers: {
    'meter-percent': '%',
    'meter-floor': 'V',
    'meter-wrong': 'ratio',
    'nominal-us': 'V',
    'tolerable-low-us': 'V',
    'tolerable-high-us': 'V',
    'no-verdict-us': 'V',
    'nominal-eu': 'V',
    'tolerable-low-eu': 'V',
    'tolerable-high-eu': 'V',
    'no-verdict-eu': 'V',
    'system-split': 'V',
    'absent-below': 'V',
    'out-of-range-spread': '%',
  },
  outcomes: [
    'expect',
    'expect-system',
    'good',
    'bad-low',
    'bad-high',
    'bad-absent',
    'inconclusive-band',
    'inconclusive-system',
    ...CONTRADICTING,
  ],
  expects: (setting) => expectationOf(setting, outletOf(setting, null)),
  judges(setting, value) {
    const volts = typeof value === 'number' ? value : 0;
    const outlet = outletOf(setting, volts);
    const { expected, against } = expectationOf(setting, outlet);
    const band = bandOf(setting, outlet);
    const base = { expected, against, weights: weights(setting, band, volts), asks: null };
    if (volts < numberOf(setting.reading, 'absent-below', 'V'))
      return { ...base, verdict: 'bad', outcome: 'bad-absent' };
    if (betweenSystems(setting, outlet, volts))
      return { ...base, verdict: 'inconclusive', outcome: 'inconclusive-system' };
    const { verdict, side } = place(volts, band);
    if (verdict === 'good') return { ...base, verdict, outcome: 'good' };
    if (verdict === 'inconclusive') return { ...base, verdict, outcome: 'inconclusive-band' };
    return { ...base, verdict, outcome: side === 'below' ? 'bad-low' : 'bad-high' };
  },
};
