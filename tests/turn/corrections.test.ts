// What was said may be changed at any time: by an answer, by words of correction, by going back.

import { describe, expect, test } from 'vitest';
import { askedOf, knowledge, talk, wordsFor, type Talk } from './a-talk.js';

const DOOR = 'door.closes-fully';
const label = (finding: string, value: string): string =>
  knowledge.findings.get(finding)?.choices[value]?.homeowner ?? '';
const valuesOf = (t: Talk, finding: string): readonly string[] => t.state().facts[finding]?.values ?? [];
const shuts = wordsFor(DOOR, 'yes');
const stays = wordsFor(DOOR, 'no');

/** A door that was said to close. */
function given(): Talk {
  const t = talk();
  t.answers(DOOR, 'yes');
  return t;
}

describe('given an answer, when another answer comes', () => {
  test('then it replaces the first at once, says so, and nothing is asked about it', () => {
    const t = given();
    const answer = t.answers(DOOR, 'no');
    expect(valuesOf(t, DOOR)).toEqual(['no']);
    expect(answer.understood).toEqual([{ finding: DOOR, value: 'no', denied: false, confidence: 1, span: null }]);
    expect(answer.withdrawn).toEqual([{ finding: DOOR, reading: null, value: 'yes' }]);
    expect(answer.ask?.kind).not.toBe('confirm');
    expect(answer.reply).toContain(label(DOOR, 'yes'));
    expect(answer.reply).toContain(label(DOOR, 'no'));
  });

  test('then the belief is what it would be had only the second been given', () => {
    const t = given();
    const only = talk();
    expect(t.answers(DOOR, 'no').ranking).toEqual(only.answers(DOOR, 'no').ranking);
  });

  test('then "not sure" takes it back', () => {
    const t = given();
    const answer = t.answers(DOOR, 'not-sure');
    expect(valuesOf(t, DOOR)).toEqual([]);
    expect(answer.withdrawn).toEqual([{ finding: DOOR, reading: null, value: 'yes' }]);
    expect(answer.understood).toMatchObject([{ finding: DOOR, value: 'not-sure', confidence: 1, span: null }]);
  });

  test('then the same again takes nothing back', () => {
    expect(given().answers(DOOR, 'yes').withdrawn).toEqual([]);
  });

  test('then a list replaces the list before it', () => {
    const t = talk();
    t.answers('frost.location', ['door-edge', 'freezer-floor']);
    const answer = t.answers('frost.location', ['door-edge', 'freezer-ceiling']);
    expect(valuesOf(t, 'frost.location')).toEqual(['door-edge', 'freezer-ceiling']);
    expect(answer.withdrawn).toEqual([{ finding: 'frost.location', reading: null, value: 'freezer-floor' }]);
  });
});

describe('given an answer, when words of correction come', () => {
  test.each(['Sorry, ', 'I meant: ', 'Actually, ', 'No wait, '])(
    '(%s) then they replace it at once and are echoed',
    (lead) => {
      const t = given();
      const answer = t.says(lead + stays);
      expect(valuesOf(t, DOOR)).toEqual(['no']);
      expect(answer.withdrawn).toEqual([{ finding: DOOR, reading: null, value: 'yes' }]);
      expect(answer.ask?.kind).not.toBe('confirm');
      expect(answer.reply).toContain(label(DOOR, 'no'));
    },
  );
});

describe('given an answer, when other words contradict it', () => {
  test('then it is asked once, the newer offered first, and the newer counts until then', () => {
    const t = given();
    const answer = t.says(stays);
    expect(answer.ask).toMatchObject({ kind: 'confirm', finding: DOOR });
    expect(answer.ask?.choices.map((c) => c.value)).toEqual(['no', 'yes', 'not-sure']);
    expect(answer.withdrawn).toEqual([{ finding: DOOR, reading: null, value: 'yes' }]);
    expect(valuesOf(t, DOOR)).toEqual(['no']);
    expect(answer.ranking).toEqual(talk().says(stays).ranking);
  });

  test.each(['yes', 'no'])('then the answer "%s" settles it', (value) => {
    const t = given();
    t.says(stays);
    const answer = t.answers(DOOR, value);
    expect(valuesOf(t, DOOR)).toEqual([value]);
    expect(answer.ask?.kind).not.toBe('confirm');
  });

  test('then "not sure" leaves it open, and it is not asked again', () => {
    const t = given();
    t.says(stays);
    const answer = t.says('not sure');
    expect(answer.ask?.kind).not.toBe('confirm');
    expect(askedOf(answer)).not.toBe(DOOR);
  });

  test('then saying the earlier once more settles it', () => {
    const t = given();
    t.says(stays);
    const answer = t.says(shuts);
    expect(valuesOf(t, DOOR)).toEqual(['yes']);
    expect(answer.ask?.kind).not.toBe('confirm');
  });

  // "Before, you said: Yes, it closes. Now I read: No. Which one is right?" - the choice called "yes" is the earlier one.
  test('then the typed name of a choice picks that choice, also where it is called "yes"', () => {
    const t = given();
    expect(t.says(stays).ask?.choices).toContainEqual({ value: 'yes', label: label(DOOR, 'yes') });
    t.says('yes');
    expect(valuesOf(t, DOOR)).toEqual(['yes']);
  });

  test('then more of a finding that may have several values is no contradiction', () => {
    const t = talk();
    t.answers('water.location', 'kitchen-floor');
    const answer = t.says(wordsFor('water.location', 'fresh-food'));
    expect(valuesOf(t, 'water.location')).toEqual(['kitchen-floor', 'fresh-food']);
    expect(answer.withdrawn).toEqual([]);
    expect(answer.ask?.kind).not.toBe('confirm');
  });
});

describe('given a value, when it is denied', () => {
  test('then it is taken out, and remembered as ruled out', () => {
    const t = talk();
    t.answers('frost.location', ['door-edge', 'freezer-back-wall']);
    const answer = t.says('there is no frost on the back wall');
    expect(answer.understood).toMatchObject([{ finding: 'frost.location', value: 'freezer-back-wall', denied: true }]);
    expect(answer.withdrawn).toEqual([{ finding: 'frost.location', reading: null, value: 'freezer-back-wall' }]);
    expect(t.state().facts['frost.location']).toMatchObject({ values: ['door-edge'], denied: ['freezer-back-wall'] });
  });
});

describe('given a reading, when it is taken again', () => {
  const ohms = (value: number, atC?: number) => ({
    part: 'defrost-heater',
    quantity: 'resistance' as const,
    value,
    unit: 'ohm' as const,
    ...(atC !== undefined && { atC }),
  });

  test('then the new one counts and the old one is told', () => {
    const t = talk('technician');
    t.measures(ohms(30));
    const answer = t.measures(ohms(31));
    expect(answer.withdrawn).toEqual([{ finding: null, reading: 'defrost-heater.resistance', value: 30 }]);
    expect(answer.readings).toMatchObject([{ part: 'defrost-heater', value: 31 }]);
    expect(t.state().readings.map((r) => r.value)).toEqual([31]);
  });

  test('then at quite another temperature both count', () => {
    const t = talk('technician');
    const sensor = (value: number, atC: number) => ({
      part: 'defrost-sensor',
      quantity: 'resistance' as const,
      value,
      unit: 'ohm' as const,
      atC,
    });
    t.measures(sensor(5400, 22));
    expect(t.measures(sensor(16300, 0)).withdrawn).toEqual([]);
    expect(t.state().readings).toHaveLength(2);
  });
});

describe('given facts, when the person goes back', () => {
  test('then the last one is taken out, told, and may be asked again', () => {
    const t = given();
    t.answers('frost.kind', 'soft-snow');
    const answer = t.says('go back');
    expect(t.state().facts['frost.kind']).toBeUndefined();
    expect(valuesOf(t, DOOR)).toEqual(['yes']);
    expect(answer.reply).toContain(knowledge.findings.get('frost.kind')?.name.homeowner);
    expect(answer.ranking).toEqual(given().says('why').ranking);
  });

  test('then nothing happened is undone: what was said stays among the events', () => {
    const t = given();
    const before = t.events();
    t.says('go back');
    expect(t.events().slice(0, before.length)).toEqual(before);
    expect(t.events().map((e) => e.type)).toContain('withdrawn');
  });

  test('then with nothing left there is nothing to take out', () => {
    const t = given();
    t.says('go back');
    const count = t.events().filter((e) => e.type === 'withdrawn').length;
    t.says('go back');
    expect(t.events().filter((e) => e.type === 'withdrawn')).toHaveLength(count);
  });

  // What was taken back is echoed to front ends too, as the contract has it.
  test('then the answer lists what was taken back', () => {
    const t = given();
    expect(t.says('go back').withdrawn).toEqual([{ finding: DOOR, reading: null, value: 'yes' }]);
  });
});
