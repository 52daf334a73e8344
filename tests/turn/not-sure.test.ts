// "Not sure" is always there, costs nothing, and is taken for an answer.

import { describe, expect, test } from 'vitest';
import type { Answer } from '../../src/message/outgoing.js';
import { askedOf, talk, type Talk } from './a-talk.js';

const answerNotSure = (t: Talk, { ask }: Answer): Answer =>
  (ask?.finding ?? ask?.reading) ? t.answers(ask?.finding ?? ask?.reading ?? '', 'not-sure') : t.says('not sure');

describe.each(['homeowner', 'technician'] as const)('a %s who is never sure', (role) => {
  const t = talk(role);
  const answers = [t.says('there is frost in the freezer')];
  for (let n = 0; n < 60 && answers.at(-1)?.ask && answers.at(-1)?.status === 'open'; n += 1)
    answers.push(answerNotSure(t, answers.at(-1) as Answer));

  test('comes to an end', () => {
    expect(answers.at(-1)?.status).not.toBe('open');
  });

  test('is asked nothing twice', () => {
    const asked = answers.map(askedOf).filter((id) => id !== null && id !== 'repair.result');
    expect(asked).toEqual([...new Set(asked)]);
    expect(asked.length).toBeGreaterThan(1);
  });

  test('is offered "not sure" each time, last', () => {
    for (const { ask } of answers) if (ask) expect(ask.choices.at(-1)?.value).toBe('not-sure');
  });

  test('changes nothing in what is believed', () => {
    for (const a of answers)
      a.ranking.forEach((r, i) => {
        expect(r.fault).toBe(answers[0]?.ranking[i]?.fault);
        expect(r.probability).toBeCloseTo(answers[0]?.ranking[i]?.probability ?? NaN, 12);
      });
  });
});

describe('"not sure" to a question', () => {
  test.each(['not sure', 'no idea', "I don't know", 'dunno', 'hard to say', 'not-sure'])(
    'as "%s" is understood',
    (text) => {
      const t = talk();
      const first = t.says('there is frost in the freezer');
      const answer = t.says(text);
      expect(answer.understood).toEqual([
        { finding: askedOf(first), value: 'not-sure', denied: false, confidence: 1, span: null },
      ]);
      expect(askedOf(answer)).not.toBe(askedOf(first));
      expect(answer.withdrawn).toEqual([]);
    },
  );

  test('may be thought better of: the answer counts as if it had been given first', () => {
    const t = talk();
    const first = t.says('there is frost in the freezer');
    const id = askedOf(first) ?? '';
    const value = first.ask?.choices[0]?.value ?? '';
    t.answers(id, 'not-sure');
    const plain = talk();
    plain.says('there is frost in the freezer');
    expect(t.answers(id, value).ranking).toEqual(plain.answers(id, value).ranking);
  });

  test('to a reading says that it can not be taken, until it is', () => {
    const t = talk('technician');
    t.answers('defrost-heater.resistance', 'not-sure');
    expect(t.state().unmeasurable).toEqual(['defrost-heater.resistance']);
    t.measures({ part: 'defrost-heater', quantity: 'resistance', value: 30, unit: 'ohm' });
    expect(t.state().unmeasurable).toEqual([]);
  });
});
