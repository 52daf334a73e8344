// A stop hazard ends the questions. No cost, no probability and no slip of the tongue lifts it.

import { describe, expect, test } from 'vitest';
import { standingStops } from '../../src/case/look.js';
import { NEEDED_FINDINGS as F } from '../../src/knowledge/named.js';
import type { Answer } from '../../src/message/outgoing.js';
import { askedOf, dangerOf, knowledge, talk, wordsFor, type Talk } from './a-talk.js';

const stops = [...knowledge.hazards.values()].filter((h) => h.level === 'stop');
const standing = (t: Talk): string[] => standingStops(t.state()).map((h) => h.hazard);
const handsOn = knowledge.words.get('before-hands-on')?.homeowner ?? '';

/** A talk in which this danger was told after two answers. */
function given(hazard: string): { t: Talk; told: Answer } {
  const t = talk();
  t.answers('frost.location', 'freezer-back-wall');
  t.answers('cooling.freezer', 'normal');
  return { t, told: t.says(dangerOf(hazard)) };
}

describe.each(stops)('$id', ({ id, askPower, now, not, name }) => {
  test('when it is told, then the talk stops and a person takes over now', () => {
    const { t, told } = given(id);
    expect(told.hazards).toEqual([{ hazard: id, level: 'stop' }]);
    expect(told.status).toBe('escalated');
    expect(told.escalation).toMatchObject({ kind: 'hazard', urgency: 'now', state: 'waiting', claimedBy: null });
    expect(told.escalation?.safety.hazards).toMatchObject([{ hazard: id, level: 'stop' }]);
    expect(told.conclusion).toBeNull();
    expect(askedOf(told)).toBe(askPower ? F.power : null);
    expect(standing(t)).toEqual([id]);
  });

  test('then the immediate steps are said first and in order, what not to do too, and no hands-on step', () => {
    const { told } = given(id);
    const places = [name.homeowner, ...now.homeowner, ...not.homeowner].map((line) => told.reply.indexOf(line));
    expect(places[0]).toBeGreaterThanOrEqual(0);
    expect([...places].sort((a, b) => a - b)).toEqual(places);
    expect(told.reply).not.toContain(handsOn);
    expect(told.reply).not.toContain(knowledge.findings.get('frost.kind')?.ask.homeowner.question);
  });

  test('then later messages join the same hand-over, and nothing but the power is asked', () => {
    const { t, told } = given(id);
    for (const later of [
      () => t.answers('frost.kind', 'soft-snow'),
      () => t.says(wordsFor('door.closes-fully', 'no')),
      () => t.says('what now?'),
      () => t.measures({ part: 'freezer', quantity: 'temperature', value: -5, unit: 'degC' }),
      () => t.answers(F.power, 'off', { role: 'technician', by: 'u2' }),
      () => t.says('a technician here', { role: 'technician', by: 'u2' }),
    ]) {
      const answer = later();
      expect(answer.escalation?.id).toBe(told.escalation?.id);
      expect(answer.escalation).toMatchObject({ kind: 'hazard', urgency: 'now' });
      expect(answer.status).toBe('escalated');
      expect(answer.conclusion).toBeNull();
      expect([null, ...(askPower ? [F.power] : [])]).toContain(askedOf(answer));
    }
    expect(t.state().facts['door.closes-fully']?.values).toEqual(['no']);
  });

  test('then "it is fixed" closes nothing', () => {
    const { t } = given(id);
    for (const answer of [t.says('it is fixed'), t.answers(F.result, 'fixed'), t.says('it works again, all good now')])
      expect(answer.status).toBe('escalated');
    expect(standing(t)).toEqual([id]);
    expect(t.state().closed).toBe(false);
  });
});

describe('the power, while a stop hazard stands', () => {
  test('answered "off" is not asked again, and stands in the summary', () => {
    const { t } = given('electric-shock');
    const answer = t.answers(F.power, 'off');
    expect(askedOf(answer)).toBeNull();
    expect(answer.escalation?.safety.powerOff).toBe('yes');
  });

  test.each(['it is fixed', 'it is getting worse', 'it is still on', 'what do I do?'])(
    'is not taken for off by "%s"',
    (text) => {
      const { t, told } = given('electric-shock');
      expect(askedOf(told)).toBe(F.power);
      expect(t.says(text).escalation?.safety.powerOff).not.toBe('yes');
    },
  );

  test('is asked twice at the most', () => {
    const { t, told } = given('electric-shock');
    expect(askedOf(told)).toBe(F.power);
    t.says('the dog is barking at the postman');
    expect(askedOf(t.says('the dog is barking at the postman'))).toBeNull();
  });

  test('is not asked once a quiet hazard joins', () => {
    const { t } = given('electric-shock');
    expect(askedOf(t.says(dangerOf('gas-smell')))).toBeNull();
    expect(standing(t)).toEqual(['electric-shock', 'gas-smell']);
  });
});

describe('given a stop hazard, when the person takes it back', () => {
  const takenBack = (t: Talk): Answer => t.says('false alarm');

  test('then it is asked once, and stands until then', () => {
    const { t } = given('burning-smell');
    const answer = takenBack(t);
    expect(answer.ask).toMatchObject({ kind: 'confirm', finding: null, reading: null });
    expect(answer.ask?.choices.map((c) => c.value)).toEqual(['yes', 'no', 'not-sure']);
    expect(answer.status).toBe('escalated');
    expect(standing(t)).toEqual(['burning-smell']);
  });

  test('then, confirmed, the hand-over ends and the talk goes on where it was', () => {
    const { t } = given('burning-smell');
    takenBack(t);
    const answer = t.says('yes');
    expect(standing(t)).toEqual([]);
    expect(answer.status).toBe('open');
    expect(answer.ask?.finding ?? answer.ask?.reading).toBeTruthy();
    expect(t.state().facts['frost.location']?.values).toEqual(['freezer-back-wall']);
  });

  test.each(['no', 'maybe', 'what?', 'the dog is barking', 'I am not sure'])(
    'then "%s" leaves it standing',
    (reply) => {
      const { t } = given('burning-smell');
      takenBack(t);
      expect(t.says(reply).status).toBe('escalated');
      expect(standing(t)).toEqual(['burning-smell']);
    },
  );

  test.each(['not sure', 'not-sure', 'yes, it is still smoking', 'it is still smoking', 'No, it still smells burnt'])(
    'then "%s" leaves it standing too',
    (reply) => {
      const { t } = given('burning-smell');
      takenBack(t);
      expect(t.says(reply).status).toBe('escalated');
      expect(standing(t)).toEqual(['burning-smell']);
    },
  );

  // "it is" counts as a yes in a short message, whatever it is.
  test.each(['it is getting worse', 'it is really bad'])('then "%s" is no yes', (reply) => {
    const { t } = given('burning-smell');
    takenBack(t);
    t.says(reply);
    expect(standing(t)).toEqual(['burning-smell']);
  });

  test('then a danger that is told again stands again', () => {
    const { t } = given('burning-smell');
    takenBack(t);
    t.says('yes');
    const answer = t.says(dangerOf('burning-smell'));
    expect(answer.status).toBe('escalated');
    expect(standing(t)).toEqual(['burning-smell']);
  });

  test('then words that take nothing back do not ask', () => {
    const { t } = given('gas-smell');
    expect(t.says(wordsFor('door.closes-fully', 'yes')).ask).toBeNull();
  });
});

describe('given a caution', () => {
  const cautions = [...knowledge.hazards.values()].filter((h) => h.level === 'caution' && h.stopFor.length === 0);

  test.each(cautions)('$id: it is said, and the talk goes on', ({ id, now }) => {
    const t = talk();
    const answer = t.says(dangerOf(id));
    expect(answer.hazards).toEqual([{ hazard: id, level: 'caution' }]);
    expect(answer.reply).toContain(now.homeowner[0]);
    expect(answer.status).toBe('open');
    expect(answer.ask).not.toBeNull();
    expect(answer.escalation).toBeNull();
  });

  test('that is a stop for a homeowner: the same words stop the one and warn the other', () => {
    const text = dangerOf('unsafe-live-work', 'technician');
    expect(talk('technician').says(text)).toMatchObject({ status: 'open', hazards: [{ level: 'caution' }] });
    expect(talk('homeowner').says(text)).toMatchObject({ status: 'escalated', hazards: [{ level: 'stop' }] });
  });
});

test('given advice, when a danger is told, then the advice is given no longer', () => {
  const t = talk();
  t.answers('frost.location', 'freezer-back-wall');
  for (let n = 0; n < 40 && !t.state().advice; n += 1) {
    const { question } = t.state();
    if (question?.finding) t.answers(question.finding, 'not-sure');
    else if (question?.reading) t.answers(question.reading, 'not-sure');
    else break;
  }
  const answer = t.says(dangerOf('gas-smell'));
  expect(answer).toMatchObject({ status: 'escalated', conclusion: null, ask: null });
});

describe('given a stop', () => {
  const topics = [...knowledge.topics.values()].filter((t) => t.handsOn);

  // found by talks of any acts: seed 20261125, path "172:0:0:0:0:0:0:0:0:0:0:0:0:0:0:0:0:0"
  test.each(topics)('$id is not told, whoever asks: it would send them to the unit', ({ examples, answer }) => {
    for (const role of ['homeowner', 'technician'] as const) {
      const line = answer[role][0] ?? '';
      const question = examples.find((text) => talk(role).says(text).reply.includes(line)) ?? '';
      expect(question).not.toBe('');
      const t = talk(role);
      t.says(dangerOf('ammonia-smell', role));
      expect(t.says(question).reply).not.toContain(line);
    }
  });

  test('what sends nobody to the unit is told', () => {
    const t = talk();
    t.says(dangerOf('ammonia-smell'));
    const { reply } = t.says(knowledge.topics.get('food-safe')?.examples[0] ?? '');
    expect(reply).toContain(knowledge.topics.get('food-safe')?.answer.homeowner[0]);
  });
});
