// Volts with the power on: leaving the timer or the control, at the heater's plug, at the evaporator fan. A point
// downstream means nothing before the one upstream is known, and nothing under power counts on a low supply.

import { place, widened, type Band } from './band.js';
import { isDead, liveBand, outputLive } from './circuit.js';
import { compressorStands, defrostCalled, defrostControl, justThawed } from './conditions.js';
import { normal, smeared, uniform } from './density.js';
import { latest, mainsOf, meterError, type Mains } from './mains.js';
import { numberIf, numberOf } from './numbers.js';
import { CONTRADICTING, tellsNothing, type Expectation, type Judge, type Opinion, type Setting } from './opinion.js';

const THERMOSTAT = 'defrost-thermostat.continuity';

interface Point {
  readonly band: Band;
  readonly against: Expectation['against'];
  readonly mains: Mains;
  /** a fan that a control feeds with low-voltage DC */
  readonly direct: boolean;
}

/** The low-voltage DC band of a fan, where the reading has one. */
function directBand({ reading }: Setting): Band | null {
  const low = numberIf(reading, 'dc-low', 'V');
  const high = numberIf(reading, 'dc-high', 'V');
  return low === undefined || high === undefined ? null : { low, high, uncertainty: meterError(reading, low, 'V') };
}

function pointOf(setting: Setting, volts: number | null): Point {
  const { state, reading, given } = setting;
  const mains = mainsOf(setting);
  const direct = directBand(setting);
  if (given.sheet) {
    const { value } = given.sheet;
    const strays = 1 + numberOf(reading, 'sheet-percent', '%') / 100;
    const band = { low: value / strays, high: value * strays, uncertainty: meterError(reading, value, 'V') };
    return { band, against: 'sheet', mains, direct: direct !== null && value <= direct.high };
  }
  // An electronic control may feed the fan either way; up to twice the DC band it is taken for DC.
  const fed = given.rating === null && defrostControl(state) === 'electronic-control';
  if (direct && fed && (volts ?? 0) <= 2 * direct.high)
    return { band: direct, against: 'common-practice', mains, direct: true };
  const against = given.rating ? 'rating' : mains.system ? 'case' : 'common-practice';
  return { band: liveBand(setting, reading, mains, volts), against, mains, direct: false };
}

function expectationOf({ band, against, direct }: Point): Expectation {
  const { low, high } = widened(band);
  return { expected: { low: Math.max(0, low), high, unit: 'V' }, against, outcome: direct ? 'expect-dc' : 'expect' };
}

/** Densities on the axis V; dead is a heap at 0 and, now and then, a ghost picked up from wires nearby. */
function weights({ reading }: Setting, { band, direct }: Point, volts: number): Opinion['weights'] {
  const slip = numberOf(reading, 'meter-wrong', 'ratio');
  const ghosts = numberOf(reading, 'ghost-share', 'ratio');
  const dead = direct ? numberOf(reading, 'dc-absent-below', 'V') : numberOf(reading, 'absent-below', 'V');
  const u = meterError(reading, volts, 'V');
  const most = 2 * band.high;
  const anything = uniform(Math.min(volts, most), 0, most);
  const heap = 2 * normal(volts, 0, Math.max(u, dead / 10));
  const absent = (1 - ghosts) * heap + ghosts * uniform(volts, 0, dead);
  const slipped = (slip / 2) * heap + (slip / 2) * anything;
  return {
    full: (1 - slip) * smeared(volts, band.low, band.high, u) + slipped,
    low: (1 - slip) * smeared(volts, dead, band.low, u) + slipped,
    absent: (1 - slip) * absent + slip * anything,
  };
}

/** Why no volts here are no fault of what feeds this point, or null. */
function excuse(setting: Setting): string | null {
  const { reading, state, others } = setting;
  const minutes = numberOf(reading, 'called-within', 'min');
  switch (reading.part) {
    case 'defrost-output':
      if (!defrostCalled(setting, minutes, 'turned')) return 'inconclusive-not-called';
      return justThawed(state) ? 'inconclusive-warm' : null;
    case 'heater-circuit': {
      if (justThawed(state)) return 'inconclusive-warm';
      const thermostat = latest(others, THERMOSTAT)?.value;
      return thermostat === 'open' || thermostat === 'OL' ? 'inconclusive-thermostat-open' : null;
    }
    default:
      return compressorStands(state) ? 'inconclusive-not-called' : null;
  }
}

/** What must be known upstream before this point says anything, or null. */
function upstream(setting: Setting): string | null {
  if (setting.reading.part !== 'heater-circuit') return null;
  const output = outputLive(setting, numberOf(setting.reading, 'called-within', 'min'));
  return output === 'live' ? null : output === 'dead' ? 'inconclusive-output-absent' : 'inconclusive-upstream';
}

/** A low value that would be right for a DC fan: nobody said what controls the unit. */
function maybeDirect(setting: Setting, volts: number): boolean {
  const direct = directBand(setting);
  return (
    direct !== null && defrostControl(setting.state) !== 'mechanical-timer' && place(volts, direct).side === 'inside'
  );
}

const OF_PART: Readonly<Record<string, Pick<Judge, 'numbers' | 'outcomes'>>> = {
  'defrost-output': { numbers: {}, outcomes: ['inconclusive-warm', ...CONTRADICTING] },
  'heater-circuit': {
    numbers: {},
    outcomes: [
      'inconclusive-warm',
      'inconclusive-upstream',
      'inconclusive-output-absent',
      'inconclusive-thermostat-open',
      ...CONTRADICTING,
    ],
  },
  'evaporator-fan': {
    numbers: { 'dc-low': 'V', 'dc-high': 'V', 'dc-absent-below': 'V' },
    outcomes: ['expect-dc', 'inconclusive-system'],
  },
};

export const circuitVoltage: Judge = {
  id: 'circuit-voltage',
  states: ['full', 'absent', 'low'],
  numbers: {
    'meter-percent': '%',
    'meter-floor': 'V',
    'meter-wrong': 'ratio',
    'full-from': 'ratio',
    'absent-below': 'V',
    'ghost-share': 'ratio',
    'sheet-percent': '%',
    'called-within': 'min',
  },
  outcomes: [
    'expect',
    'good',
    'bad-absent',
    'bad-low',
    'inconclusive-band',
    'inconclusive-supply',
    'inconclusive-not-called',
  ],
  also: (reading) => OF_PART[reading.part] ?? { numbers: {}, outcomes: [] },
  expects: (setting) => expectationOf(pointOf(setting, null)),
  judges(setting, value) {
    const { reading } = setting;
    const volts = typeof value === 'number' ? value : 0;
    const point = pointOf(setting, volts);
    const expectation = expectationOf(point);
    if (point.mains.tooLow) return tellsNothing(expectation, 'inconclusive-supply');
    const unknown = upstream(setting);
    if (unknown !== null) return tellsNothing(expectation, unknown);
    if (!point.direct && maybeDirect(setting, volts)) return tellsNothing(expectation, 'inconclusive-system');
    const dead = point.direct ? volts <= numberOf(reading, 'dc-absent-below', 'V') : isDead(reading, volts);
    const excused = dead ? excuse(setting) : null;
    if (excused !== null) return tellsNothing(expectation, excused);
    const { expected, against } = expectation;
    const base = { expected, against, weights: weights(setting, point, volts), asks: null };
    if (dead) return { ...base, verdict: 'bad', outcome: 'bad-absent' };
    const { verdict, side } = place(volts, point.band);
    if (verdict === 'good') return { ...base, verdict, outcome: 'good' };
    // Without the outlet's own volts, what lies between says as much about the outlet as about this point.
    const known = point.mains.measuredV !== undefined || against === 'sheet' || point.direct;
    if (known && verdict === 'bad' && side === 'below') return { ...base, verdict, outcome: 'bad-low' };
    return { ...base, verdict: 'inconclusive', outcome: 'inconclusive-band' };
  },
};
