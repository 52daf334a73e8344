// The case asks by itself, with a clock that is set by hand: due, restarted, answered, stopped, night.

import { describe, expect, test } from 'vitest';
import type { Answer } from '../../src/message/outgoing.js';
import { adviseThaw, desk, knowledge, type Desk } from './a-desk.js';

const texts = ({ notes }: Answer): string[] => notes.map((n) => n.text);
const words = (key: string): string => knowledge.words.get(`note.follow-up.${key}`)?.homeowner ?? '?';
const DAY = 24;

function advised(): Desk {
  const d = desk();
  expect(adviseThaw(d).reply).toContain('24 hours, 7 days, 21 days');
  return d;
}

describe('due', () => {
  test('a day after the advice it asks for the temperatures, then waits for the answer', () => {
    const d = advised();
    d.later(DAY - 1);
    expect(d.polls().notes).toEqual([]);
    d.later(1);
    const answer = d.polls();
    expect(answer.notes).toEqual([{ at: expect.any(String), from: 'follow-up', text: words('temperatures') }]);
    expect(answer.reply.startsWith(words('temperatures'))).toBe(true);
    expect(answer.ask?.finding).toBe('repair.result');
    expect(d.polls().notes).toEqual([]);
  });

  test('a week after a thaw, and again after three, also when it was fixed at first', () => {
    const d = advised();
    d.later(DAY);
    d.polls();
    expect(d.answers('repair.result', 'fixed').status).toBe('closed');
    d.later(6 * DAY);
    const week = d.polls();
    expect(texts(week)).toEqual([words('frost')]);
    expect(week).toMatchObject({ status: 'closed', ask: { finding: 'repair.result' } });
    expect(d.says('yes, no new frost').status).toBe('closed');
    d.later(14 * DAY);
    expect(texts(d.polls())).toEqual([words('frost')]);
    expect(d.answers('repair.result', 'fixed').status).toBe('closed');
    d.later(100 * DAY);
    expect(d.polls().notes).toEqual([]);
  });

  test('it opens the reply to a message too, unless the message tells how it went', () => {
    const d = advised();
    d.later(DAY);
    expect(texts(d.says('hello'))).toEqual([words('temperatures')]);
    const quick = advised();
    quick.later(DAY);
    const answer = quick.says('it is fixed');
    expect(answer).toMatchObject({ status: 'closed', notes: [] });
  });

  test('who comes back to a closed case by themselves is not asked what they are just telling', () => {
    const d = advised();
    d.answers('repair.result', 'fixed');
    d.later(8 * DAY);
    const answer = d.says('there is ice on the freezer floor again');
    expect(answer.notes).toEqual([]);
    expect(answer.status).not.toBe('closed');
  });

  test('a quiet case is asked once, then closed as unanswered; a message opens it again', () => {
    const d = desk();
    d.says('there is frost in the freezer');
    d.later(3 * DAY);
    expect(texts(d.polls())).toEqual([words('quiet')]);
    d.later(3 * DAY);
    expect(d.polls()).toMatchObject({ status: 'open', notes: [] });
    d.later(4 * DAY);
    expect(d.polls()).toMatchObject({ status: 'closed', notes: [], ask: null });
    expect(d.store.load(d.caseId())?.closedAs).toBe('unanswered');
    expect(d.says('sorry, I was away. there is frost on the back wall').status).toBe('open');
  });

  test('who writes by themselves is not asked whether they are still there', () => {
    const d = desk();
    d.says('there is frost in the freezer');
    d.later(5 * DAY);
    expect(d.says('it is on the back wall').notes).toEqual([]);
  });

  test('a case with an open hand-over is neither asked nor closed', () => {
    const d = desk();
    d.says('a person please');
    d.later(60 * DAY);
    expect(d.polls()).toMatchObject({ status: 'escalated', notes: [] });
  });
});

describe('restarted', () => {
  test('what fell due meanwhile is asked at the start, and never twice', () => {
    const d = advised();
    d.later(DAY + 1);
    d.restarts();
    d.talk.fallDue();
    d.talk.fallDue();
    d.restarts();
    d.talk.fallDue();
    expect(d.store.events(d.caseId()).filter((e) => e.type === 'followed-up')).toHaveLength(1);
    expect(texts(d.polls())).toEqual([words('temperatures')]);
    d.restarts();
    expect(d.polls().notes).toEqual([]);
  });

  test('a quiet case is closed at the start', () => {
    const d = desk();
    d.says('there is frost in the freezer');
    d.later(3 * DAY);
    d.talk.fallDue();
    d.later(8 * DAY);
    d.restarts();
    d.talk.fallDue();
    expect(d.store.load(d.caseId())?.closedAs).toBe('unanswered');
    expect(d.store.rebuild(d.caseId())).toEqual(d.store.load(d.caseId()));
  });

  test('nothing of another channel is touched', () => {
    const d = advised();
    d.later(DAY + 1);
    const elsewhere = desk({ channel: 'elsewhere', now: d.now }, d.store);
    elsewhere.talk.fallDue();
    expect(d.store.events(d.caseId()).filter((e) => e.type === 'followed-up')).toEqual([]);
  });

  test('a question that was answered before it was read is told no more', () => {
    const d = advised();
    d.later(DAY);
    d.talk.fallDue();
    expect(d.says('it is fixed', { by: 'u2' }).status).toBe('closed');
    expect(d.polls().notes).toEqual([]);
  });
});

describe('answered', () => {
  test('"no" to "has the frost stayed away" opens a closed case again, and counts against the remedy', () => {
    const d = advised();
    d.answers('repair.result', 'fixed');
    d.later(7 * DAY);
    d.polls();
    const answer = d.says('no');
    expect(answer.status).not.toBe('closed');
    expect(d.store.load(d.caseId())?.failed).toMatchObject([{ remedy: 'thaw-and-clear-drain', better: false }]);
    expect(answer.conclusion?.fault).not.toBe('drain-iced');
  });

  test('"yes" closes it again, and does not say that it was opened', () => {
    const d = advised();
    d.answers('repair.result', 'fixed');
    d.later(7 * DAY);
    d.polls();
    const answer = d.says('yes');
    expect(answer.status).toBe('closed');
    expect(answer.reply).not.toContain(knowledge.words.get('closed-again')?.homeowner);
  });
});

describe('stopped', () => {
  test.each(['stop asking', 'please do not remind me', "don't ask me again", 'no more reminders please'])(
    '"%s" ends all of it',
    (text) => {
      const d = advised();
      const answer = d.says(text);
      expect(answer.reply).toContain(knowledge.words.get('follow-up.stopped')?.homeowner);
      for (const hours of [DAY, 6 * DAY, 14 * DAY, 100 * DAY]) {
        d.later(hours);
        expect(d.polls()).toMatchObject({ notes: [], status: 'advised' });
      }
    },
  );

  test.each(['the fan does not stop', 'it did not stop frosting', 'can you stop the frost', 'stop'])(
    '"%s" stops nothing',
    (text) => {
      const d = advised();
      d.says(text);
      expect(d.store.load(d.caseId())?.followUps.stopped).toBe(false);
    },
  );
});

describe('night', () => {
  // The talk begins at 10:00 in Greenwich: at UTC+11 it is 21:00 then, and a day later again.
  test('by the clock that the front end writes', () => {
    const d = advised();
    d.says('thanks', { at: '2026-11-25T21:00:00+11:00' });
    d.later(DAY);
    expect(d.polls().notes).toEqual([]);
    // 07:00 and 08:00 there
    d.later(10);
    expect(d.polls().notes).toEqual([]);
    d.later(1);
    expect(texts(d.polls())).toEqual([words('temperatures')]);
  });

  test('by the clock that the person tells, which goes before', () => {
    const d = advised();
    d.says('my time zone is UTC+11');
    d.says('thanks', { at: '2026-11-25T10:00:00Z' });
    expect(d.store.load(d.caseId())?.offset).toEqual({ minutes: 660, told: true });
    d.later(DAY);
    expect(d.polls().notes).toEqual([]);
    d.later(11);
    expect(texts(d.polls())).toEqual([words('temperatures')]);
  });
});
