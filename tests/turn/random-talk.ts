// Talks of random answers: each question gets one of its choices, or a number that a meter may show.

import type { Role } from '../../src/knowledge/facts.js';
import type { ReadingIn } from '../../src/message/incoming.js';
import type { Answer } from '../../src/message/outgoing.js';
import { talk, type Talk } from './a-talk.js';

export interface Walked {
  readonly role: Role;
  readonly answers: readonly Answer[];
  readonly talk: Talk;
  /** the last question was answered, or there was none */
  readonly ended: boolean;
}

const UNITS: Readonly<Record<string, readonly [ReadingIn['unit'], readonly number[]]>> = {
  resistance: ['ohm', [0.3, 20, 30, 5400, 16000, 3e6]],
  voltage: ['V', [0, 12, 100, 118, 121, 240]],
  current: ['A', [0, 0.5, 3.5, 5]],
  temperature: ['degC', [-40, -25, -18, -5, 3, 8, 22, 35]],
  'relative-humidity': ['%', [20, 50, 90]],
  thickness: ['mm', [0, 1, 5, 20]],
};

/** One answer to what was asked, chosen by a number; a poll where nothing is asked. */
function reply(t: Talk, { ask }: Answer, pick: number): Answer {
  if (!ask) return t.polls();
  const values = ask.choices.map((c) => c.value);
  const value = values[pick % values.length] ?? 'not-sure';
  if (ask.finding) return t.answers(ask.finding, value);
  if (!ask.reading) return t.says(value);
  const [part = '', quantity = ''] = ask.reading.split('.');
  if (pick % 4 === 0 || (quantity === 'continuity' && value === 'not-sure')) return t.answers(ask.reading, 'not-sure');
  if (quantity === 'continuity') return t.answers(ask.reading, value);
  const [unit, numbers] = UNITS[quantity] ?? [undefined, [1]];
  const atC = pick % 3 === 0 ? {} : { atC: pick % 5 === 0 ? -20 : 21 };
  return t.measures({
    part,
    quantity: quantity as ReadingIn['quantity'],
    value: numbers[pick % numbers.length] ?? 1,
    unit,
    ...atC,
  });
}

/** Goes on until nothing is asked any more, the case is closed, or the picks run out. */
export function walk(role: Role, picks: readonly number[]): Walked {
  const t = talk(role);
  const answers = [t.says('there is frost in the freezer')];
  for (const pick of picks) {
    const last = answers.at(-1) as Answer;
    if (last.status === 'closed' || last.ask === null) return { role, answers, talk: t, ended: true };
    answers.push(reply(t, last, pick));
  }
  return { role, answers, talk: t, ended: false };
}
