// The curves of the knowledge folder as physics takes them, with their tolerance; each is built once.

import type { Curve, Knowledge } from '../knowledge/facts.js';
import { toleranceBandOhm, type SensorTolerance } from '../physics/sensor-tolerance.js';
import { tableCurve, type ThermistorCurve } from '../physics/thermistor.js';

export interface SensorCurve {
  readonly curve: ThermistorCurve;
  readonly tolerance: SensorTolerance;
}

const built = new WeakMap<Curve, SensorCurve>();

/** A curve by its rows: its span is theirs, and the maker's equation gives the same to a hundredth of a kelvin. */
export function sensorCurve(curve: Curve): SensorCurve {
  let found = built.get(curve);
  if (!found) built.set(curve, (found = { curve: tableCurve(rowsOf(curve)), tolerance: toleranceOf(curve) }));
  return found;
}

const all = new WeakMap<Knowledge, readonly SensorCurve[]>();

/** Every curve of the folder. */
export function sensorCurves(knowledge: Knowledge): readonly SensorCurve[] {
  let found = all.get(knowledge);
  if (!found) all.set(knowledge, (found = [...knowledge.curves.values()].map(sensorCurve)));
  return found;
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
