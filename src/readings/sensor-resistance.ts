// The defrost sensor's ohms, unplugged. They mean nothing without the sensor's own temperature, nor before it has taken
// that temperature on.

import { numberOf } from './numbers.js';
import { expectedOhm, OHM_NUMBERS, placeOhm, seen, weightsOhm, type OhmBand, type Seen } from './ohms.js';
import { CONTRADICTING, tellsNothing, type Expectation, type Judge, type Opinion, type Setting } from './opinion.js';
import { ohmBandAt, sensorBand, type SensorBand } from './sensor-band.js';

function weights(setting: Setting, band: OhmBand, what: Seen): Opinion['weights'] {
  const { reading, given } = setting;
  const spread = numberOf(reading, 'off-curve-spread', 'ratio');
  const { sound, drifted, open, shorted } = weightsOhm(reading, band, what, spread);
  // Warm, a sensor that is off in ice may still read right: that share of the bad ones passes for good.
  const warm = (given.atC ?? 0) > numberOf(reading, 'hidden-above', 'degC');
  const hidden = warm ? numberOf(reading, 'hidden-share', 'ratio') : 0;
  return { sound, 'off-curve': hidden * sound + (1 - hidden) * drifted, open, shorted };
}

/** The band at the sensor's temperature; undefined without one, and outside the curve. */
const bandOf = (setting: Setting, sensor: SensorBand): OhmBand | undefined =>
  setting.given.atC === null ? undefined : ohmBandAt(setting, sensor, setting.given.atC);

function expectationOf(setting: Setting, { against }: SensorBand, band: OhmBand | undefined): Expectation {
  if (setting.given.atC === null) return { expected: null, against, outcome: 'expect-no-temperature' };
  if (!band) return { expected: null, against, outcome: 'inconclusive-outside-curve' };
  return { expected: expectedOhm(setting.reading, band), against, outcome: 'expect' };
}

export const sensorResistance: Judge = {
  id: 'sensor-resistance',
  states: ['sound', 'open', 'shorted', 'off-curve'],
  numbers: {
    ...OHM_NUMBERS,
    anchor: 'ohm',
    'anchor-at': 'degC',
    'band-factor': 'ratio',
    'sheet-percent': '%',
    'beta-low': 'K',
    'beta-high': 'K',
    'beta-from': 'degC',
    'beta-to': 'degC',
    'off-curve-spread': 'ratio',
    'hidden-above': 'degC',
    'hidden-share': 'ratio',
    'settled-after': 'min',
    'room-low': 'degC',
    'room-high': 'degC',
    'ice-bath': 'degC',
    'ice-bath-uncertainty': 'K',
    thermometer: 'K',
    'assumed-spread': 'K',
  },
  outcomes: [
    'expect',
    'expect-no-temperature',
    'good',
    'good-wide',
    'bad-open',
    'bad-short',
    'bad-low',
    'bad-high',
    'inconclusive-no-temperature',
    'inconclusive-not-settled',
    'inconclusive-band',
    'inconclusive-wide',
    'inconclusive-outside-curve',
    ...CONTRADICTING,
  ],
  expects(setting) {
    const sensor = sensorBand(setting);
    return expectationOf(setting, sensor, bandOf(setting, sensor));
  },
  judges(setting, value) {
    const { reading, given } = setting;
    const sensor = sensorBand(setting);
    const band = bandOf(setting, sensor);
    const expectation = expectationOf(setting, sensor, band);
    const what = seen(reading, value);
    // Open and short show at any temperature.
    if (what.kind !== 'ohms') return brokenAt(setting, expectation, what);
    if (given.atC === null) return tellsNothing(expectation, 'inconclusive-no-temperature', 'temperature');
    if (!band) return tellsNothing(expectation, 'inconclusive-outside-curve', 'temperature');
    if (given.settledMinutes !== null && given.settledMinutes < numberOf(reading, 'settled-after', 'min'))
      return tellsNothing(expectation, 'inconclusive-not-settled', 'settle');
    const { verdict, side } = placeOhm(reading, band, what.ohm);
    const { expected, against } = expectation;
    const base = { expected, against, weights: weights(setting, band, what), asks: null };
    if (verdict === 'good') {
      // right in warm air, it may still be wrong in ice: the ice reading is worth having
      const asks = given.atC > numberOf(reading, 'hidden-above', 'degC') ? 'cold' : null;
      return { ...base, verdict, outcome: band.common ? 'good-wide' : 'good', asks };
    }
    if (side === 'below' && given.settledMinutes === null && isRoomOhms(setting, sensor, given.atC, what.ohm))
      return tellsNothing(expectation, 'inconclusive-not-settled', 'settle');
    if (verdict === 'inconclusive')
      return { ...base, verdict, outcome: band.common ? 'inconclusive-wide' : 'inconclusive-band' };
    return { ...base, verdict, outcome: side === 'below' ? 'bad-low' : 'bad-high' };
  },
};

/** Ohms of a warm room at a temperature near freezing: it had not settled, most of the time. */
function isRoomOhms({ reading }: Setting, sensor: SensorBand, atC: number, ohm: number): boolean {
  if (atC > numberOf(reading, 'hidden-above', 'degC')) return false;
  const coolest = sensor.at(numberOf(reading, 'room-low', 'degC'));
  const warmest = sensor.at(numberOf(reading, 'room-high', 'degC'));
  return coolest !== undefined && warmest !== undefined && ohm <= coolest.highOhm && ohm >= warmest.lowOhm;
}

function brokenAt(setting: Setting, { expected, against }: Expectation, what: Seen): Opinion {
  const outcome = what.kind === 'open' ? 'bad-open' : 'bad-short';
  // The band plays no part in a point mass; any will do.
  const band = { lowOhm: 1, highOhm: 1, flat: false, common: false, thermometer: 0 };
  return { verdict: 'bad', expected, against, outcome, weights: weights(setting, band, what), asks: null };
}
