// Values as the person reads them, and the sentence of an outcome with its places filled in.

import type { Knowledge, Reading, Words } from '../knowledge/facts.js';
import type { Expected } from '../message/outgoing.js';
import type { QuantityName } from '../knowledge/facts.js';
import { quantityOf, toPerson, type Unit, type UnitSystem } from '../physics/units.js';
import type { Opinion } from './opinion.js';

/** Who reads, and in which units. */
export interface Reader {
  readonly knowledge: Knowledge;
  readonly words: Words;
  readonly units: UnitSystem;
}

/** An SI value (ohm, V, A, degC, %, m), or what a meter shows in place of a number, in the reader's units and words. */
export function valueText({ knowledge, words, units }: Reader, value: number | string, quantity: QuantityName): string {
  const say = (key: string, number: string): string => {
    const text = `value.${key.toLowerCase()}`;
    const told = (number === '1' ? knowledge.words.get(`${text}.one`) : undefined) ?? knowledge.words.get(text);
    return told?.[words].replace('{value}', number) ?? `${number} ${key}`.trim();
  };
  if (typeof value !== 'number') return say(value, '');
  if (quantity === 'continuity') return String(value);
  const shown = toPerson(value, quantity, units);
  return say(shown.unit === '%' ? 'percent' : shown.unit, String(shown.value));
}

export interface Places {
  readonly value: number | string | null;
  readonly expected: Expected | null;
  readonly atC: number | null;
  /** what it contradicts, ready to read */
  readonly other: string | null;
  /** what else the sentence of this outcome may name */
  readonly more?: Opinion['more'];
}

/** The sentence of an outcome. @throws Error where the knowledge folder has none for it */
export function why(reader: Reader, reading: Reading, outcome: string, places: Places): string {
  const sentence = reading.why[outcome]?.[reader.words];
  if (sentence === undefined) throw new Error(`${reading.id} has no words for "${outcome}"`);
  const { value, expected, atC, other, more = {} } = places;
  const band = expected && 'low' in expected ? expected : null;
  const end = (number: number | undefined): string =>
    band && number !== undefined ? valueText(reader, number, quantityOf(band.unit as Unit)) : '';
  const named = Object.entries(more).map(([name, { value: si, as }]) => [
    name,
    as === 'number' ? String(Math.round(si * 10) / 10) : valueText(reader, si, as),
  ]);
  const filled: Readonly<Record<string, string>> = {
    ...Object.fromEntries(named),
    value: value === null ? '' : valueText(reader, value, reading.quantity),
    low: end(band?.low),
    high: end(band?.high),
    at: atC === null ? '' : valueText(reader, atC, 'temperature'),
    other: other ?? '',
  };
  return sentence.replace(/\{([a-z]+)\}/g, (place, name: string) => filled[name] ?? place);
}
