// What a defrost sensor should show at a temperature: by a sheet's point, a named curve, what the case knows of the unit,
// or all the curves that are common.

import type { Measured } from '../case/state.js';
import type { Reading, UnitFamily } from '../knowledge/facts.js';
import type { Against } from '../message/outgoing.js';
import { spreadThrough, type PlausibleShapes } from '../physics/sheet-points.js';
import type { SensorPoint } from '../physics/steinhart-hart.js';
import { tableCurve } from '../physics/thermistor.js';
import { kelvins } from '../physics/units.js';
import { numberOf } from './numbers.js';
import type { OhmBand } from './ohms.js';
import type { Setting } from './opinion.js';
import { curveBand, curveFall, curveShapes, sensorCurve, type SensorCurve } from './sensor-curve.js';

type Ohms = { readonly lowOhm: number; readonly highOhm: number };

export interface SensorBand {
  readonly against: Against;
  readonly common: boolean;
  /** the band in ohm at a temperature in degC; undefined where no curve reaches */
  readonly at: (temperatureC: number) => Ohms | undefined;
  /** by how much of itself the resistance falls a kelvin, at a temperature in degC where `at` has a band */
  readonly fall: (temperatureC: number) => number;
}

type Curve = Pick<SensorBand, 'at' | 'fall'>;

export function sensorBand(setting: Setting): SensorBand {
  const { knowledge, state, given, others } = setting;
  const own = fromReading(setting, given);
  if (own) return own;
  const same = others.filter((m) => m.part === given.part && m.quantity === given.quantity);
  const earlier = same.toReversed().flatMap((m) => fromReading(setting, m) ?? [])[0];
  if (earlier) return { ...earlier, against: 'case' };
  const family = state.family === null ? undefined : knowledge.units.get(state.family)?.sensor;
  if (family) return { against: 'case', common: false, ...byFamily(setting, family) };
  return { against: 'common-practice', common: true, ...byCommonKind(setting) };
}

function fromReading(setting: Setting, m: Pick<Measured, 'sheet' | 'curve'>): SensorBand | undefined {
  if (m.sheet && m.sheet.atC !== null) {
    const point = { temperatureC: m.sheet.atC, resistanceOhm: m.sheet.value };
    return { against: 'sheet', common: false, ...byPoints(setting, [point]) };
  }
  const curve = m.curve === null ? undefined : setting.knowledge.curves.get(m.curve);
  return curve && { against: 'curve', common: false, ...byCurve(sensorCurve(curve)) };
}

const byCurve = (curve: SensorCurve): Curve => ({
  at: (atC) => curveBand(curve, atC),
  fall: (atC) => curveFall(curve, atC),
});

/** How far a sensor may be from the value that its sheet prints without a tolerance. */
const strays = (reading: Reading): number => 1 + numberOf(reading, 'sheet-percent', '%') / 100;

const stretched = ({ lowOhm, highOhm }: Ohms, factor: number): Ohms => ({
  lowOhm: lowOhm / factor,
  highOhm: highOhm * factor,
});

type Points = readonly [SensorPoint] | readonly [SensorPoint, SensorPoint];

/** All plausible curves through one or two points, and a tolerance around them. */
function byPoints({ knowledge, reading }: Setting, points: Points, factor?: number): Curve {
  const shapes: PlausibleShapes = {
    references: curveShapes(knowledge),
    betaLowK: numberOf(reading, 'beta-low', 'K'),
    betaHighK: numberOf(reading, 'beta-high', 'K'),
    betaBetweenC: [numberOf(reading, 'beta-from', 'degC'), numberOf(reading, 'beta-to', 'degC')],
  };
  return {
    at(atC) {
      if (atC <= LOWEST_C || points.some((p) => p.temperatureC <= LOWEST_C)) return undefined;
      const spread = spreadThrough(points, atC, shapes);
      return spread.kind === 'found' ? stretched(spread, factor ?? strays(reading)) : undefined;
    },
    // d ln R / dT of the Beta form with the Beta between the two limits: within a tenth of any of the curves.
    fall: (atC) => (shapes.betaLowK + shapes.betaHighK) / 2 / kelvins(atC) ** 2,
  };
}

/** No curve reaches there, and physics refuses absolute zero. */
const LOWEST_C = -150;

function byFamily(setting: Setting, sensor: NonNullable<UnitFamily['sensor']>): Curve {
  if ('curve' in sensor) {
    const curve = setting.knowledge.curves.get(sensor.curve);
    if (!curve) throw new Error(`no sensor curve is called ${sensor.curve}`);
    return byCurve(sensorCurve(curve));
  }
  const points = sensor.points.map(({ atC, ohm }): SensorPoint => ({ temperatureC: atC, resistanceOhm: ohm }));
  const [first, second] = points;
  const [beforeLast, last] = points.slice(-2);
  if (!first) throw new Error('a family has a sensor without a point');
  if (!second || !beforeLast || !last) return byPoints(setting, [first]);
  const colder = byPoints(setting, [first, second]);
  const warmer = byPoints(setting, [beforeLast, last]);
  if (points.length < 3) return colder;
  const table = tableCurve(points);
  const factor = strays(setting.reading);
  // Between its points the sheet's own curve, beyond them all that go on from the last two.
  const inside = byCurve({ curve: table, tolerance: { from: 'kelvin', plusMinusK: 0 } });
  const beyond = (atC: number): Curve => (atC < table.lowC ? colder : warmer);
  return {
    at(atC) {
      const between = inside.at(atC);
      return between ? stretched(between, factor) : beyond(atC).at(atC);
    },
    fall: (atC) => inside.fall(atC) || beyond(atC).fall(atC),
  };
}

/** Around one common kind, as wide as kinds differ. */
function byCommonKind(setting: Setting): Curve {
  const { reading } = setting;
  const temperatureC = numberOf(reading, 'anchor-at', 'degC');
  const resistanceOhm = numberOf(reading, 'anchor', 'ohm');
  return byPoints(setting, [{ temperatureC, resistanceOhm }], numberOf(reading, 'band-factor', 'ratio'));
}

/** The band at the part's temperature, as the judge of ohms takes it, with what the thermometer leaves open. */
export function ohmBandAt(setting: Setting, sensor: SensorBand, atC: number): OhmBand | undefined {
  const here = sensor.at(atC);
  if (!here) return undefined;
  const wide = here.highOhm / here.lowOhm > FLAT_ABOVE;
  const thermometer = (sensor.fall(atC) * thermometerLimit(setting, atC)) / 2;
  return { ...here, flat: wide, common: sensor.common, thermometer };
}

/** K; ice water is its own thermometer, whether it was measured or only said. */
function thermometerLimit({ reading, given }: Setting, atC: number): number {
  const ice = numberOf(reading, 'ice-bath-uncertainty', 'K');
  if (Math.abs(atC - numberOf(reading, 'ice-bath', 'degC')) <= ice) return ice;
  return numberOf(reading, given.atAssumed ? 'assumed-spread' : 'thermometer', 'K');
}

/** A band wider than any tolerance holds several curves: none of them is the likely one. */
const FLAT_ABOVE = 1.2;
