// The curves of the knowledge folder as physics takes them, with their tolerance; each is built once.

import type { Curve, Knowledge } from '../knowledge/facts.js';
import { toleranceBandOhm, type SensorTolerance } from '../physics/sensor-tolerance.js';
import { fitThreePoints, type SensorPoint } from '../physics/steinhart-hart.js';
import { resistanceAt, sensitivityAt, tableCurve, type ThermistorCurve } from '../physics/thermistor.js';

export interface SensorCurve {
  readonly curve: ThermistorCurve;
  readonly tolerance: SensorTolerance;
}

const built = new WeakMap<Curve, SensorCurve>();

/** A curve by the maker's own equation where it has one, else by its rows; its span is that of the rows. */
export function sensorCurve(curve: Curve): SensorCurve {
  let found = built.get(curve);
  if (!found) built.set(curve, (found = { curve: formOf(curve), tolerance: toleranceOf(curve) }));
  return found;
}

function formOf(curve: Curve): ThermistorCurve {
  const table = tableCurve(rowsOf(curve));
  const { equation } = curve;
  // Limits that the maker prints row by row are read between the rows.
  if (!equation || toleranceOf(curve).from === 'columns') return table;
  const { lowC, highC } = table;
  if (equation.form === 'steinhart-hart') return { form: equation.form, coefficients: equation, lowC, highC };
  return { form: equation.form, ratio: { ...equation, r25Ohm: curve.r25.value }, lowC, highC };
}

const shapes = new WeakMap<Knowledge, readonly ThermistorCurve[]>();

/** The shapes of all curves of the folder, each as the equation through its ends and its middle: exact to 0.03 K, and quick. */
export function curveShapes(knowledge: Knowledge): readonly ThermistorCurve[] {
  let found = shapes.get(knowledge);
  if (!found) shapes.set(knowledge, (found = [...knowledge.curves.values()].map(shapeOf)));
  return found;
}

function shapeOf(curve: Curve): ThermistorCurve {
  const table = sensorCurve(curve).curve;
  const { lowC, highC } = table;
  const at = (temperatureC: number): SensorPoint => {
    const there = resistanceAt(table, temperatureC);
    if (there.kind !== 'found') throw new Error(`${curve.id} does not reach ${temperatureC} degC`);
    return { temperatureC, resistanceOhm: there.resistanceOhm };
  };
  const coefficients = fitThreePoints([at(lowC), at((lowC + highC) / 2), at(highC)]);
  return { form: 'steinhart-hart', coefficients, lowC, highC };
}

/** The band in ohm at a temperature, or undefined outside the curve's span. */
export function curveBand(
  { curve, tolerance }: SensorCurve,
  atC: number,
): { lowOhm: number; highOhm: number } | undefined {
  if (atC < curve.lowC || atC > curve.highC) return undefined;
  const band = toleranceBandOhm(curve, tolerance, atC);
  return band.kind === 'found' ? { lowOhm: band.lowOhm, highOhm: band.highOhm } : undefined;
}

/** By how much of itself the resistance falls a kelvin; 0 outside the curve's span. */
export function curveFall({ curve }: SensorCurve, atC: number): number {
  if (atC < curve.lowC || atC > curve.highC) return 0;
  const slope = sensitivityAt(curve, atC);
  return slope.kind === 'found' ? slope.perKelvin : 0;
}

function rowsOf(curve: Curve): Parameters<typeof tableCurve>[0] {
  if (curve.table)
    return curve.table.map(({ atC, ohm, min, max }) => ({
      temperatureC: atC,
      resistanceOhm: ohm,
      ...(min === undefined ? {} : { minOhm: min }),
      ...(max === undefined ? {} : { maxOhm: max }),
    }));
  return (curve.ratios ?? []).map(({ atC, ratio }) => ({ temperatureC: atC, resistanceOhm: ratio * curve.r25.value }));
}

/** The maker's own limits where the rows have them. */
function toleranceOf({ table, tolerance, beta }: Curve): SensorTolerance {
  if (table?.[0]?.min !== undefined) return { from: 'columns' };
  if ('kelvin' in tolerance) return { from: 'kelvin', plusMinusK: tolerance.kelvin.value };
  return {
    from: 'r25-and-beta',
    r25Fraction: tolerance.r25Percent.value / 100,
    betaK: beta.value,
    betaFraction: tolerance.betaPercent.value / 100,
  };
}
