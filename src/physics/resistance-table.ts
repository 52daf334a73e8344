// A maker's table of resistance against temperature, read between its rows and never beyond them.
// Between rows 1/T is nearly straight in ln R, so a cubic through the four nearest rows follows the published tables
// to 0.01 K with rows 10 K apart (straight lines there: 0.03 K; straight lines in ohms: 0.9 K).

import { positive } from './domain.js';
import type { SensorPoint } from './steinhart-hart.js';
import { ABSOLUTE_ZERO_C, kelvins } from './units.js';

/** A row; `minOhm` and `maxOhm` where the maker prints limits. */
export interface TableRow extends SensorPoint {
  readonly minOhm?: number;
  readonly maxOhm?: number;
}

type Column = 'resistanceOhm' | 'minOhm' | 'maxOhm';

/**
 * Rows in order of temperature, checked.
 * @throws RangeError with fewer than three rows, where resistance does not fall from row to row, or where a row's
 *   limits do not enclose its value
 */
export function orderedRows(rows: readonly TableRow[]): readonly TableRow[] {
  const ordered = [...rows].sort((one, other) => one.temperatureC - other.temperatureC);
  if (ordered.length < 3) throw new RangeError(`a table has ${ordered.length} rows; expected 3 or more`);
  ordered.forEach((row, i) => {
    const { temperatureC, resistanceOhm, minOhm = resistanceOhm, maxOhm = resistanceOhm } = row;
    const colder = ordered[i - 1];
    const falls = colder === undefined || (temperatureC > colder.temperatureC && resistanceOhm < colder.resistanceOhm);
    positive('resistanceOhm', resistanceOhm);
    positive('minOhm', minOhm);
    kelvins(temperatureC);
    if (!falls)
      throw new RangeError(`the row at ${temperatureC} degC must have fewer ohms than the colder row before it`);
    if (!(minOhm <= resistanceOhm && resistanceOhm <= maxOhm)) {
      throw new RangeError(`the row at ${temperatureC} degC must have min <= value <= max`);
    }
  });
  return Object.freeze(ordered);
}

/**
 * A column's resistance in ohm at a temperature in degC between the first and the last of the ordered rows.
 * @returns undefined where one of the rows needed has no such limit
 * @throws RangeError outside the rows
 */
export function resistanceByTableOhm(
  rows: readonly TableRow[],
  temperatureC: number,
  column: Column = 'resistanceOhm',
): number | undefined {
  const x = 1 / kelvins(temperatureC);
  const near = nearestRows(rows, (row) => row.temperatureC - temperatureC);
  const ohms = near.map((row) => row[column]);
  if (!ohms.every((ohm) => ohm !== undefined)) return undefined;
  return Math.exp(
    throughAll(
      near.map((row) => 1 / kelvins(row.temperatureC)),
      ohms.map(Math.log),
      x,
    ),
  );
}

/**
 * Temperature in degC of a resistance in ohm between the first and the last of the ordered rows.
 * @throws RangeError outside the rows, or when the resistance is not positive
 */
export function temperatureByTableC(rows: readonly TableRow[], resistanceOhm: number): number {
  const x = Math.log(positive('resistanceOhm', resistanceOhm));
  const near = nearestRows(rows, (row) => resistanceOhm / row.resistanceOhm - 1);
  const logs = near.map((row) => Math.log(row.resistanceOhm));
  return (
    1 /
      throughAll(
        logs,
        near.map((row) => 1 / kelvins(row.temperatureC)),
        x,
      ) +
    ABSOLUTE_ZERO_C
  );
}

// The two rows on either side of the place sought and one more on each side; at the ends the outermost four.
// `past` tells how far a row lies past that place on the way to warmer rows.
function nearestRows(rows: readonly TableRow[], past: (row: TableRow) => number): readonly TableRow[] {
  const rounding = 1e-9;
  const next = rows.findIndex((row) => past(row) >= -rounding);
  if (next < 0 || (next === 0 && past(rows[0]!) > rounding)) {
    throw new RangeError('this value lies outside the rows of the table');
  }
  const first = Math.max(0, Math.min(next - 2, rows.length - 4));
  return rows.slice(first, first + 4);
}

// Lagrange's polynomial through all the given points.
function throughAll(xs: readonly number[], ys: readonly number[], x: number): number {
  return ys.reduce((sum, y, i) => {
    const others = xs.filter((_, j) => j !== i);
    return sum + others.reduce((product, other) => (product * (x - other)) / (xs[i]! - other), y);
  }, 0);
}
