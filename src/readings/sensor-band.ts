// What a defrost sensor should show at a temperature: by a sheet's point, a named curve, what the case knows of the unit,
// or all the curves that are common.

import type { Measured } from '../case/state.js';
import type { UnitFamily } from '../knowledge/facts.js';
import type { Against } from '../message/outgoing.js';
import { spreadThrough, type PlausibleShapes } from '../physics/sheet-points.js';
import type { SensorPoint } from '../physics/steinhart-hart.js';
import { tableCurve } from '../physics/thermistor.js';
import { numberOf } from './numbers.js';
import type { OhmBand } from './ohms.js';
import type { Setting } from './opinion.js';
import { curveBand, sensorCurve, sensorCurves, type SensorCurve } from './sensor-curve.js';

type Ohms = { readonly lowOhm: number; readonly highOhm: number };

export interface SensorBand {
  readonly against: Against;
  readonly common: boolean;
  /** the band in ohm at a temperature in degC; undefined where no curve reaches */
  readonly at: (temperatureC: number) => Ohms | undefined;
}

export function sensorBand(setting: Setting): SensorBand {
  const { knowledge, state, given, others } = setting;
  const own = fromReading(setting, given);
  if (own) return own;
  const same = others.filter((m) => m.part === given.part && m.quantity === given.quantity);
  const earlier = same.toReversed().flatMap((m) => fromReading(setting, m) ?? [])[0];
  if (earlier) return { ...earlier, against: 'case' };
  const family = state.family === null ? undefined : knowledge.units.get(state.family)?.sensor;
  if (family) return { against: 'case', common: false, at: byFamily(setting, family) };
  return { against: 'common-practice', common: true, at: (atC) => byCommonKind(setting, atC) };
}

function fromReading(setting: Setting, m: Pick<Measured, 'sheet' | 'curve'>): SensorBand | undefined {
  if (m.sheet && m.sheet.atC !== null) {
    const point = { temperatureC: m.sheet.atC, resistanceOhm: m.sheet.value };
    return { against: 'sheet', common: false, at: (atC) => byPoints(setting, [point], atC) };
  }
  const curve = m.curve === null ? undefined : setting.knowledge.curves.get(m.curve);
  return curve && { against: 'curve', common: false, at: (atC) => curveBand(sensorCurve(curve), atC) };
}

/** How far a sensor may be from the value that its sheet prints without a tolerance. */
const strays = ({ reading }: Setting): number => 1 + numberOf(reading, 'sheet-percent', '%') / 100;

const stretched = ({ lowOhm, highOhm }: Ohms, factor: number): Ohms => ({
  lowOhm: lowOhm / factor,
  highOhm: highOhm * factor,
});

type Points = readonly [SensorPoint] | readonly [SensorPoint, SensorPoint];

/** All plausible curves through one or two points, and a tolerance around them. */
function byPoints(setting: Setting, points: Points, atC: number, factor = strays(setting)): Ohms | undefined {
  const shapes: PlausibleShapes = {
    references: sensorCurves(setting.knowledge).map((each) => each.curve),
    betaLowK: numberOf(setting.reading, 'beta-low', 'K'),
    betaHighK: numberOf(setting.reading, 'beta-high', 'K'),
    betaBetweenC: [numberOf(setting.reading, 'beta-from', 'degC'), numberOf(setting.reading, 'beta-to', 'degC')],
  };
  if (atC <= LOWEST_C || points.some((p) => p.temperatureC <= LOWEST_C)) return undefined;
  const spread = spreadThrough(points, atC, shapes);
  return spread.kind === 'found' ? stretched(spread, factor) : undefined;
}

/** No curve reaches there, and physics refuses absolute zero. */
const LOWEST_C = -150;

function byFamily(setting: Setting, sensor: NonNullable<UnitFamily['sensor']>): SensorBand['at'] {
  if ('curve' in sensor) {
    const curve = setting.knowledge.curves.get(sensor.curve);
    return (atC) => curve && curveBand(sensorCurve(curve), atC);
  }
  const points = sensor.points.map(({ atC, ohm }): SensorPoint => ({ temperatureC: atC, resistanceOhm: ohm }));
  const [first, second] = points;
  const [beforeLast, last] = points.slice(-2);
  if (!first || !second || !beforeLast || !last) return (atC) => (first ? byPoints(setting, [first], atC) : undefined);
  return (atC) => {
    if (points.length >= 3 && atC >= first.temperatureC && atC <= last.temperatureC)
      return stretched(
        exactly({ curve: tableCurve(points), tolerance: { from: 'kelvin', plusMinusK: 0 } }, atC),
        strays(setting),
      );
    return byPoints(setting, atC > first.temperatureC ? [beforeLast, last] : [first, second], atC);
  };
}

function exactly(curve: SensorCurve, atC: number): Ohms {
  const band = curveBand(curve, atC);
  if (!band) throw new Error(`${atC} degC lies outside the points it was read between`);
  return band;
}

/** Around one common kind, as wide as kinds differ. */
function byCommonKind(setting: Setting, atC: number): Ohms | undefined {
  const { reading } = setting;
  const anchor = {
    temperatureC: numberOf(reading, 'anchor-at', 'degC'),
    resistanceOhm: numberOf(reading, 'anchor', 'ohm'),
  };
  return byPoints(setting, [anchor], atC, numberOf(reading, 'band-factor', 'ratio'));
}

/** The band at the part's temperature, as the judge of ohms takes it, with what the thermometer leaves open. */
export function ohmBandAt(setting: Setting, sensor: SensorBand, atC: number): OhmBand | undefined {
  const here = sensor.at(atC);
  if (!here) return undefined;
  const thermometerK = thermometerLimit(setting, atC);
  const fall = Math.abs(Math.log(middle(sensor.at(atC - 0.5) ?? here) / middle(sensor.at(atC + 0.5) ?? here)));
  const wide = here.highOhm / here.lowOhm > FLAT_ABOVE;
  return { ...here, flat: wide, common: sensor.common, thermometer: (fall * thermometerK) / 2 };
}

/** K; ice water is its own thermometer, whether it was measured or only said. */
function thermometerLimit({ reading, given }: Setting, atC: number): number {
  const ice = numberOf(reading, 'ice-bath-uncertainty', 'K');
  if (Math.abs(atC - numberOf(reading, 'ice-bath', 'degC')) <= ice) return ice;
  return numberOf(reading, given.atAssumed ? 'assumed-spread' : 'thermometer', 'K');
}

/** A band wider than any tolerance holds several curves: none of them is the likely one. */
const FLAT_ABOVE = 1.2;

const middle = ({ lowOhm, highOhm }: Ohms): number => Math.sqrt(lowOhm * highOhm);
