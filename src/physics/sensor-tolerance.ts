// How far a good sensor may stray from its curve, in ohms at a temperature and in kelvin at a resistance.

import { positive, within } from './domain.js';
import { resistanceByTableOhm } from './resistance-table.js';
import { kelvins } from './units.js';
import { resistanceAt, sensitivityAt, temperatureAt, type OutsideSpan, type ThermistorCurve } from './thermistor.js';

/** What a maker promises: fractions of R25 and Beta (2 % is 0.02), kelvin at any temperature, or the table's limits. */
export type SensorTolerance =
  | {
      readonly from: 'r25-and-beta';
      readonly r25Fraction: number;
      readonly betaK: number;
      readonly betaFraction: number;
    }
  | { readonly from: 'kelvin'; readonly plusMinusK: number }
  | { readonly from: 'columns' };

export interface OhmBand {
  readonly kind: 'found';
  readonly lowOhm: number;
  readonly highOhm: number;
}

/** A table without limits around this temperature, or a curve that is no table. */
export interface NoColumns {
  readonly kind: 'no-columns';
}

/**
 * The band in ohm in which a good sensor lies at a temperature in degC.
 * From R25 and Beta: R (1 +- d) with 1 + d = (1 + r25) (1 + betaK betaFraction |1/T - 1/298.15|), the rule that gives
 * the limits printed in curve A's table (Vishay 29094) to the last digit printed in per cent.
 * From kelvin: the curve at that much warmer and colder, by its slope at the temperature.
 * @throws RangeError when a fraction is not from 0 to 0.5, Beta not positive, or the kelvin not from 0 to 20
 */
export function toleranceBandOhm(
  curve: ThermistorCurve,
  tolerance: SensorTolerance,
  temperatureC: number,
): OhmBand | OutsideSpan | NoColumns {
  const slope = sensitivityAt(curve, temperatureC);
  const nominal = resistanceAt(curve, temperatureC);
  if (nominal.kind === 'outside-span') return nominal;
  if (slope.kind === 'outside-span') return slope;
  const ohm = nominal.resistanceOhm;
  switch (tolerance.from) {
    case 'columns':
      return columnBand(curve, temperatureC);
    case 'kelvin': {
      const factor = Math.exp(within('plusMinusK', tolerance.plusMinusK, 0, 20) * slope.perKelvin);
      return { kind: 'found', lowOhm: ohm / factor, highOhm: ohm * factor };
    }
    case 'r25-and-beta': {
      const r25 = within('r25Fraction', tolerance.r25Fraction, 0, 0.5);
      const betaSpreadK = positive('betaK', tolerance.betaK) * within('betaFraction', tolerance.betaFraction, 0, 0.5);
      const strays = (1 + r25) * (1 + betaSpreadK * Math.abs(1 / kelvins(temperatureC) - 1 / 298.15)) - 1;
      return { kind: 'found', lowOhm: ohm * Math.max(0, 1 - strays), highOhm: ohm * (1 + strays) };
    }
  }
}

/**
 * The same band as a temperature error: the sensor that shows `resistanceOhm` is within +- `plusMinusK` of
 * `temperatureC`. Half the band in ohm divided by the curve's slope there, as makers print it.
 * @throws RangeError when the resistance is not positive, and as toleranceBandOhm
 */
export function toleranceBandK(
  curve: ThermistorCurve,
  tolerance: SensorTolerance,
  resistanceOhm: number,
): { readonly kind: 'found'; readonly temperatureC: number; readonly plusMinusK: number } | OutsideSpan | NoColumns {
  const found = temperatureAt(curve, resistanceOhm);
  if (found.kind === 'outside-span') return found;
  // A resistance at the very end of the span may come back a rounding error beyond it.
  const temperatureC = Math.min(Math.max(found.temperatureC, curve.lowC), curve.highC);
  const band = toleranceBandOhm(curve, tolerance, temperatureC);
  if (band.kind !== 'found') return band;
  const slope = sensitivityAt(curve, temperatureC);
  if (slope.kind !== 'found') return slope;
  const half = (band.highOhm - band.lowOhm) / 2 / resistanceOhm;
  return { kind: 'found', temperatureC, plusMinusK: half / slope.perKelvin };
}

function columnBand(curve: ThermistorCurve, temperatureC: number): OhmBand | NoColumns {
  if (curve.form !== 'table') return { kind: 'no-columns' };
  const lowOhm = resistanceByTableOhm(curve.rows, temperatureC, 'minOhm');
  const highOhm = resistanceByTableOhm(curve.rows, temperatureC, 'maxOhm');
  if (lowOhm === undefined || highOhm === undefined) return { kind: 'no-columns' };
  return { kind: 'found', lowOhm, highOhm };
}
