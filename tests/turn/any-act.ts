// What a person, or the desk, may do next, by chance: taps, answers, readings, words, corrections, dangers, another
// role or person, days in between. Made from the knowledge folder, so that a new entry is tried without a change.

import * as fc from 'fast-check';
import type { Act as DeskAct } from '../../src/desk/act.js';
import type { Role } from '../../src/knowledge/facts.js';
import type { ReadingIn, Said } from '../../src/message/incoming.js';
import type { Answer } from '../../src/message/outgoing.js';
import { knowledge } from './a-talk.js';

interface Line {
  readonly role: Role;
  readonly by: string;
  /** since the last message */
  readonly hours: number;
}

export type AnyAct =
  | { readonly act: 'picks'; readonly choice: number; readonly line: Line }
  | { readonly act: 'says'; readonly said: Said; readonly line: Line }
  | { readonly act: 'desk'; readonly does: DeskAct }
  /** the process ends and starts again */
  | { readonly act: 'restarts' };

const oneOf = (values: readonly string[]): fc.Arbitrary<string> => fc.constantFrom(...values);
const text = (texts: readonly string[]): fc.Arbitrary<Said> =>
  oneOf(texts).map((said): Said => ({ kind: 'text', text: said }));

const findings = [...knowledge.findings.values()];
const told = findings.flatMap((f) => Object.values(f.says).flatMap((s) => s.examples));
const dangers = [...knowledge.hazards.values()].flatMap((h) => h.examples);
const topics = [...knowledge.topics.values()].flatMap((t) => t.examples);
const talk = [
  'yes',
  'no',
  'not sure',
  'I do not know',
  '1',
  '2',
  'the last one',
  'go back',
  'start over',
  'why',
  'how do I do that',
  'what do you know so far',
  'a person please',
  'it is fixed',
  'it did not help',
  'it is better but not gone',
  'false alarm, there was no smell',
  'I was wrong, there is no danger',
  'thanks',
  'goodbye',
  'show me a picture',
  'no more reminders please',
  'it is -18',
  'my time zone is UTC-7',
  'asdf qwer',
];

const answers: fc.Arbitrary<Said> = fc.constantFrom(...findings).chain((f) => {
  const one = oneOf([...f.values, 'not-sure']);
  const value = f.many ? fc.oneof(one, fc.uniqueArray(oneOf(f.values), { minLength: 1, maxLength: 3 })) : one;
  return value.map((v): Said => ({ kind: 'answer', finding: f.id, value: v }));
});

const NUMBERS: Readonly<Record<string, readonly [ReadingIn['unit'], number, number]>> = {
  resistance: ['ohm', 0, 1e6],
  voltage: ['V', 0, 400],
  current: ['A', 0, 30],
  temperature: ['degC', -60, 60],
  'relative-humidity': ['%', 0, 100],
  thickness: ['mm', 0, 300],
};

const readings: fc.Arbitrary<Said> = fc.constantFrom(...knowledge.readings.values()).chain(({ part, quantity }) => {
  const [unit, min, max] = NUMBERS[quantity] ?? [undefined, 0, 1];
  const value: fc.Arbitrary<ReadingIn['value']> =
    quantity === 'continuity'
      ? fc.constantFrom('closed' as const, 'open' as const, 'OL' as const)
      : fc.oneof(
          fc.double({ min, max, noNaN: true, noDefaultInfinity: true }),
          fc.constantFrom(min, max),
          ...(quantity === 'resistance'
            ? [fc.constant('OL' as const), fc.double({ min: 1, max: 40, noNaN: true })]
            : []),
        );
  return fc
    .record(
      { value, atC: fc.integer({ min: -40, max: 40 }), settledMinutes: fc.constantFrom(0, 2, 30) },
      { requiredKeys: ['value'] },
    )
    .map((given): Said => ({ kind: 'reading', reading: { part, quantity, ...(unit ? { unit } : {}), ...given } }));
});

const correction: fc.Arbitrary<Said> = fc
  .tuple(fc.constantFrom('sorry, ', 'actually ', 'I meant ', 'not ', ''), oneOf(told))
  .map(([before, said]): Said => ({ kind: 'text', text: before + said }));

const desk: fc.Arbitrary<DeskAct> = fc.oneof(
  fc.constant<DeskAct>({ act: 'claim' }),
  fc.constant<DeskAct>({ act: 'ask', text: 'is the fan running' }),
  fc.constant<DeskAct>({ act: 'hand-back', text: null }),
  oneOf([...knowledge.hazards.keys()]).map((hazard): DeskAct => ({ act: 'clear', hazard })),
  oneOf([...knowledge.faults.keys(), 'not-found']).map((cause): DeskAct => ({
    act: 'close',
    cause,
    fixed: null,
    parts: null,
  })),
);

/** `usual`: who mostly speaks. */
function lineOf(usual: Role): fc.Arbitrary<Line> {
  return fc.record({
    role: fc.oneof(
      { weight: 8, arbitrary: fc.constant(usual) },
      { weight: 1, arbitrary: fc.constantFrom<Role>('homeowner', 'technician', 'senior') },
    ),
    by: fc.oneof({ weight: 8, arbitrary: fc.constant('u1') }, { weight: 1, arbitrary: fc.constant('u2') }),
    hours: fc.oneof({ weight: 8, arbitrary: fc.constant(0.05) }, { weight: 1, arbitrary: fc.constantFrom(2, 30, 400) }),
  });
}

/** A talk: what is done in it, one after the other. */
export const anyActs = (most: number): fc.Arbitrary<AnyAct[]> =>
  fc.constantFrom<Role>('homeowner', 'technician', 'senior').chain((usual) => {
    const line = lineOf(usual);
    const says = (said: fc.Arbitrary<Said>): fc.Arbitrary<AnyAct> =>
      fc.record({ act: fc.constant('says' as const), said, line });
    return fc.array(
      fc.oneof(
        { weight: 24, arbitrary: fc.record({ act: fc.constant('picks' as const), choice: fc.nat(40), line }) },
        { weight: 6, arbitrary: says(answers) },
        { weight: 5, arbitrary: says(readings) },
        { weight: 4, arbitrary: says(text(told)) },
        { weight: 4, arbitrary: says(correction) },
        { weight: 5, arbitrary: says(text(talk)) },
        { weight: 3, arbitrary: says(text(topics)) },
        { weight: 3, arbitrary: says(text(dangers)) },
        { weight: 1, arbitrary: says(fc.constant<Said>({ kind: 'poll' })) },
        { weight: 3, arbitrary: desk.map((does): AnyAct => ({ act: 'desk', does })) },
        { weight: 1, arbitrary: fc.constant<AnyAct>({ act: 'restarts' }) },
      ),
      { minLength: Math.ceil(most / 2), maxLength: most, size: 'max' },
    );
  });

/** An answer to what was asked, chosen by a number: tapped, typed, or measured; a poll where nothing is asked. */
export function picked(ask: Answer['ask'], choice: number): Said {
  if (!ask) return { kind: 'poll' };
  const option = ask.choices[choice % ask.choices.length];
  const value = option?.value ?? 'not-sure';
  if (ask.finding)
    return choice % 7 === 3
      ? { kind: 'text', text: option?.label ?? value }
      : { kind: 'answer', finding: ask.finding, value };
  if (!ask.reading) return { kind: 'text', text: value };
  const [part = '', quantity = ''] = ask.reading.split('.');
  if (quantity === 'continuity' || choice % 4 === 0) return { kind: 'answer', finding: ask.reading, value };
  const [unit, min, max] = NUMBERS[quantity] ?? ['ohm' as const, 0, 100];
  const share = [0, 0.001, 0.005, 0.02, 0.1, 0.3, 0.5, 0.9][choice % 8] ?? 0;
  return {
    kind: 'reading',
    reading: {
      part,
      quantity: quantity as ReadingIn['quantity'],
      value: min + share * (max - min),
      ...(unit ? { unit } : {}),
      ...(choice % 3 === 0 ? {} : { atC: choice % 5 === 0 ? -20 : 21 }),
    },
  };
}
