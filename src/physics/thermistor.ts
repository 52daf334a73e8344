// A sensor curve in any of its three published forms, with the span it holds for. Outside its span a curve has no
// answer: it says so, and where it ends, in place of an extrapolated or clamped number.

import { positive } from './domain.js';
import { resistanceByRatioOhm, temperatureByRatioC, type RatioForm } from './ratio-form.js';
import { orderedRows, resistanceByTableOhm, temperatureByTableC, type TableRow } from './resistance-table.js';
import { resistanceBySteinhartHartOhm, temperatureBySteinhartHartC, type SteinhartHart } from './steinhart-hart.js';
import { kelvins } from './units.js';

interface Span {
  readonly lowC: number;
  readonly highC: number;
}

export type ThermistorCurve = Span &
  (
    | { readonly form: 'steinhart-hart'; readonly coefficients: SteinhartHart }
    | { readonly form: 'ratio'; readonly ratio: RatioForm }
    | { readonly form: 'table'; readonly rows: readonly TableRow[] }
  );

/** Where the curve ends, degC; `side` tells which end was passed. */
export interface OutsideSpan extends Span {
  readonly kind: 'outside-span';
  readonly side: 'colder' | 'warmer';
}

export type ResistanceFound = { readonly kind: 'found'; readonly resistanceOhm: number } | OutsideSpan;
export type TemperatureFound = { readonly kind: 'found'; readonly temperatureC: number } | OutsideSpan;

/**
 * A curve from a table's rows, in any order; its span is the table's.
 * @throws RangeError where the rows are no falling table (see orderedRows)
 */
export function tableCurve(rows: readonly TableRow[]): ThermistorCurve {
  const ordered = orderedRows(rows);
  const [first, last] = [ordered[0]!, ordered[ordered.length - 1]!];
  return { form: 'table', rows: ordered, lowC: first.temperatureC, highC: last.temperatureC };
}

/**
 * Resistance in ohm at a temperature in degC.
 * @throws RangeError at or below absolute zero
 */
export function resistanceAt(curve: ThermistorCurve, temperatureC: number): ResistanceFound {
  kelvins(temperatureC);
  if (temperatureC < curve.lowC) return outside(curve, 'colder');
  if (temperatureC > curve.highC) return outside(curve, 'warmer');
  return { kind: 'found', resistanceOhm: ohmInside(curve, temperatureC) };
}

/**
 * Temperature in degC of a resistance in ohm.
 * @throws RangeError when the resistance is not positive: open and shorted sensors are told apart before this
 */
export function temperatureAt(curve: ThermistorCurve, resistanceOhm: number): TemperatureFound {
  positive('resistanceOhm', resistanceOhm);
  const rounding = 1e-9;
  if (resistanceOhm > ohmInside(curve, curve.lowC) * (1 + rounding)) return outside(curve, 'colder');
  if (resistanceOhm < ohmInside(curve, curve.highC) * (1 - rounding)) return outside(curve, 'warmer');
  return { kind: 'found', temperatureC: degreesInside(curve, resistanceOhm) };
}

/**
 * How steeply a curve falls: -(dR/dT)/R in 1/K at a temperature in degC, taken over 0.2 K (one-sided at the ends).
 * About 0.035 to 0.07 for the sensors of the trade.
 */
export function sensitivityAt(
  curve: ThermistorCurve,
  temperatureC: number,
): { readonly kind: 'found'; readonly perKelvin: number } | OutsideSpan {
  const here = resistanceAt(curve, temperatureC);
  if (here.kind === 'outside-span') return here;
  const colderC = Math.max(curve.lowC, temperatureC - 0.1);
  const warmerC = Math.min(curve.highC, temperatureC + 0.1);
  const fall = Math.log(ohmInside(curve, colderC) / ohmInside(curve, warmerC));
  return { kind: 'found', perKelvin: fall / (warmerC - colderC) };
}

function outside({ lowC, highC }: Span, side: OutsideSpan['side']): OutsideSpan {
  return { kind: 'outside-span', side, lowC, highC };
}

function ohmInside(curve: ThermistorCurve, temperatureC: number): number {
  switch (curve.form) {
    case 'steinhart-hart':
      return resistanceBySteinhartHartOhm(curve.coefficients, temperatureC);
    case 'ratio':
      return resistanceByRatioOhm(curve.ratio, temperatureC);
    case 'table':
      return resistanceByTableOhm(curve.rows, temperatureC)!;
  }
}

function degreesInside(curve: ThermistorCurve, resistanceOhm: number): number {
  switch (curve.form) {
    case 'steinhart-hart':
      return temperatureBySteinhartHartC(curve.coefficients, resistanceOhm);
    case 'ratio':
      return temperatureByRatioC(curve.ratio, resistanceOhm);
    case 'table':
      return temperatureByTableC(curve.rows, resistanceOhm);
  }
}
