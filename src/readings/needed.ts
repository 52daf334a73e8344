// What the judges need from the knowledge folder: every reading's judge, states, numbers and words. All mistakes are
// collected; none is repaired.

import type { Knowledge, Reading } from '../knowledge/facts.js';
import type { Mistake } from '../knowledge/mistake.js';
import { JUDGES } from './judges.js';
import { SUPPLY } from './mains.js';
import { HEATER_OHMS } from './heater-rating.js';
import { OUTPUT } from './circuit.js';
import { inUnit } from './numbers.js';
import type { Judge } from './opinion.js';

/** Every reading that its judge could not work with, and every reading that other judges rely on and that is missing. */
export function mistakesOfReadings(knowledge: Knowledge): Mistake[] {
  const missing = [SUPPLY, HEATER_OHMS, OUTPUT]
    .filter((id) => !knowledge.readings.has(id))
    .map((id): Mistake => {
      const [part = ''] = id.split('.');
      return mistake(part, `the judges need the reading "${id}", and it is missing`, 'Put it back.');
    });
  return [...missing, ...[...knowledge.readings.values()].flatMap(mistakesOf)];
}

const mistake = (part: string, problem: string, mend: string): Mistake => ({
  file: `knowledge/readings/${part}.yaml`,
  line: 1,
  problem,
  mend,
});

function mistakesOf(reading: Reading): Mistake[] {
  const judge = JUDGES.get(reading.judge);
  const report = (problem: string, mend: string): Mistake =>
    mistake(reading.part, `${reading.quantity}: ${problem}`, mend);
  if (!judge) return [report(`no judge is called "${reading.judge}"`, `Allowed: ${[...JUDGES.keys()].join(', ')}.`)];
  const states = judge.states ?? reading.values;
  const unlike = states
    .filter((s) => !reading.values.includes(s))
    .concat(reading.values.filter((s) => !states.includes(s)));
  if (unlike.length > 0)
    return [
      report(`the states ${unlike.join(', ')} do not fit the judge ${judge.id}`, `It weighs: ${states.join(', ')}.`),
    ];
  const { numbers, outcomes } = judge.also?.(reading) ?? { numbers: {}, outcomes: [] };
  return [
    ...numbersOf(reading, { ...judge.numbers, ...numbers }).map(([problem, mend]) => report(problem, mend)),
    ...[...judge.outcomes, ...outcomes]
      .filter((outcome) => reading.why[outcome] === undefined)
      .map((outcome) => report(`there are no words for "${outcome}"`, `Add why.${outcome}.`)),
  ];
}

function numbersOf(reading: Reading, needed: Judge['numbers']): [problem: string, mend: string][] {
  const wrong = Object.entries(needed).flatMap(([key, unit]): [string, string][] => {
    const found = reading.numbers[key];
    if (!found) return [[`the number "${key}" is missing`, `Add values.${key} in ${unit}.`]];
    if (found.unit === unit || inUnit(found.value, found.unit, unit) !== undefined) return [];
    return [[`"${key}" is in ${found.unit}`, `Give it in ${unit}.`]];
  });
  const unread = Object.keys(reading.numbers).filter((key) => !(key in needed));
  return [
    ...wrong,
    ...unread.map((key): [string, string] => [`no judge reads the number "${key}"`, 'Remove it, or correct its name.']),
  ];
}
