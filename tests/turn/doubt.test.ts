// A danger that is not plain is asked about, once, before anything else.

import { describe, expect, test } from 'vitest';
import { standingStops } from '../../src/case/look.js';
import { askedOf, talk, type Talk } from './a-talk.js';

const PAST = 'the plug was sparking years ago. There is frost on the back wall of the freezer.';
const standing = (t: Talk): string[] => standingStops(t.state()).map((h) => h.hazard);
const choices = (t: Talk, text: string): string[] => t.says(text).ask?.choices.map((c) => c.value) ?? [];

describe('given a danger that is told as past', () => {
  test('then it is asked about, the question is about the talk, and "not sure" is a choice', () => {
    const answer = talk().says(PAST);
    expect(answer.hazards).toEqual([]);
    expect(answer.ask).toMatchObject({ finding: null, reading: null, kind: 'confirm', notBefore: null });
    expect(answer.ask?.choices.at(-1)?.value).toBe('not-sure');
    expect(answer.reply).toContain(answer.ask?.text);
    expect(answer.status).toBe('open');
  });

  test('and what else was said is kept', () => {
    const { understood } = talk().says(PAST);
    expect(understood).toContainEqual(expect.objectContaining({ value: 'freezer-back-wall' }));
  });

  test.each(['yes', 'not-sure', "I don't know", 'burning-smell'])(
    'and the answer is "%s", then it is the alarm',
    (said) => {
      const t = talk();
      t.says(PAST);
      const answer = t.says(said);
      expect(answer.hazards).toEqual([{ hazard: 'burning-smell', level: 'stop' }]);
      expect(answer.status).toBe('escalated');
      expect(standing(t)).toEqual(['burning-smell']);
    },
  );

  test('and the answer is "no", then the talk goes on and asks of the frost', () => {
    const t = talk();
    t.says(PAST);
    const answer = t.says('no');
    expect(answer.hazards).toEqual([]);
    expect(standing(t)).toEqual([]);
    expect(askedOf(answer)).not.toBeNull();
  });

  test('and it is told again as present, then it is the alarm', () => {
    const t = talk();
    t.says(PAST);
    expect(t.says('no, but I smell burning now').hazards).toContainEqual({ hazard: 'burning-smell', level: 'stop' });
  });

  test('and nothing is answered, then the question stands', () => {
    const t = talk();
    t.says(PAST);
    const before = t.state().question;
    t.says('hmm');
    expect(t.state().question).toEqual(before);
  });
});

test('given two dangers that may be meant, then each is a choice beside none and not sure', () => {
  const offered = choices(talk(), 'the plug was sparking years ago, and last winter I smelled gas');
  expect(offered).toEqual(['burning-smell', 'gas-smell', 'no', 'not-sure']);
});

test('given a danger that stands, then nothing is asked about another', () => {
  const t = talk();
  t.says('I smell gas');
  expect(t.says(PAST).ask).toBeNull();
});
