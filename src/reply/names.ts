/** Facts of a case in words: the name of a finding, the label of a value, a reading in the person's units. */
import type { Fact, Measured } from '../case/state.js';
import type { Knowledge, QuantityName, Words } from '../knowledge/facts.js';
import { toPerson, type UnitSystem } from '../physics/units.js';
import { list, say } from './say.js';

export const nameOf = (knowledge: Knowledge, words: Words, finding: string): string =>
  knowledge.findings.get(finding)?.name[words] ?? knowledge.readings.get(finding)?.name[words] ?? finding;

export const labelOf = (knowledge: Knowledge, words: Words, finding: string, value: string): string =>
  value === 'not-sure'
    ? say(knowledge, words, 'not-sure')
    : (knowledge.findings.get(finding)?.choices[value]?.[words] ?? value);

export const faultName = (knowledge: Knowledge, words: Words, fault: string): string =>
  knowledge.faults.get(fault)?.name[words] ?? fault;

/** "frost place: on the back wall" */
export function factInWords(
  knowledge: Knowledge,
  words: Words,
  finding: string,
  fact: Pick<Fact, 'values' | 'denied' | 'notSure'>,
): string {
  const name = nameOf(knowledge, words, finding);
  if (fact.notSure) return say(knowledge, words, 'echo.item', { name, value: say(knowledge, words, 'not-sure') });
  const label = (v: string): string => labelOf(knowledge, words, finding, v);
  if (fact.values.length > 0)
    return say(knowledge, words, 'echo.item', { name, value: list(knowledge, words, fact.values.map(label)) });
  return say(knowledge, words, 'echo.denied', { name, value: list(knowledge, words, fact.denied.map(label)) });
}

const SIGNS: Readonly<Record<string, string>> = { ohm: 'ohm', kohm: 'kohm', Mohm: 'Mohm', degC: 'C', degF: 'F' };

/** A value in SI, in the person's units: "5.4 kohm", "73 F". */
export function amount(value: number, quantity: QuantityName, units: UnitSystem): string {
  if (quantity === 'continuity') return String(value);
  const shown = toPerson(value, quantity, units);
  return `${shown.value} ${SIGNS[shown.unit] ?? shown.unit}`;
}

export function measuredInWords(
  knowledge: Knowledge,
  words: Words,
  m: Pick<Measured, 'value' | 'quantity' | 'atC'>,
  units: UnitSystem,
): string {
  const value = typeof m.value === 'number' ? amount(m.value, m.quantity, units) : m.value;
  return m.atC === null
    ? value
    : say(knowledge, words, 'reading.at', { value, at: amount(m.atC, 'temperature', units) });
}
