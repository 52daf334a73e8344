// A reading's numbers from the knowledge folder, in the unit that a judge works in.

import type { Reading } from '../knowledge/facts.js';
import { UNITS, type Unit } from '../message/incoming.js';
import { quantityOf, toSi } from '../physics/units.js';

/**
 * A number of a reading, in `unit`.
 * @throws Error where the number is missing or in another unit: `thawline knowledge` reports both before anything runs
 */
export function numberOf(reading: Reading, key: string, unit: string): number {
  const found = reading.numbers[key];
  if (!found) throw new Error(`${reading.id} has no number "${key}" (${unit})`);
  if (found.unit === unit) return found.value;
  const converted = inUnit(found.value, found.unit, unit);
  if (converted === undefined) throw new Error(`${reading.id}: "${key}" is in ${found.unit}; expected ${unit}`);
  return converted;
}

/** The number, or undefined where the reading does without it. */
export const numberIf = (reading: Reading, key: string, unit: string): number | undefined =>
  reading.numbers[key] ? numberOf(reading, key, unit) : undefined;

/** Converts to the SI unit of a quantity; undefined where the two units do not measure the same thing. */
export function inUnit(value: number, from: string, to: string): number | undefined {
  // A difference in K is no temperature: 5 K more is not -268 degC.
  if (!isUnit(from) || !isUnit(to) || from === 'K' || to === 'K' || quantityOf(from) !== quantityOf(to))
    return undefined;
  const si = toSi(value, from);
  return si.kind === 'possible' && SI.has(to) ? si.value : undefined;
}

const SI = new Set<string>(['ohm', 'V', 'A', 'degC', '%', 'm']);
const isUnit = (unit: string): unit is Unit => (UNITS as readonly string[]).includes(unit);
