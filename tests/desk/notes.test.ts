// What waits for a caller: given what the desk did, when this person speaks or asks, then these notes, once.

import { describe, expect, test } from 'vitest';
import { openStore } from '../../src/store/store.js';
import { Conversations } from '../../src/conversation.js';
import { workAtDesk } from '../../src/conversation/desk-work.js';
import type { Answer } from '../../src/message/outgoing.js';
import { desk, knowledge, type Desk } from './a-desk.js';

const DANGER = 'there is a burning smell';
const texts = ({ notes }: Answer): string[] => notes.map((n) => n.text);

function handedOver(): Desk {
  const d = desk();
  expect(d.says('a person please').escalation).toMatchObject({ state: 'waiting', claimedBy: null });
  return d;
}

describe('the caller is told who has it', () => {
  test('with the next message, in plain words, and the answer opens with it', () => {
    const d = handedOver();
    d.acts({ act: 'claim' });
    const answer = d.says('the frost is on the back wall');
    expect(answer.notes).toEqual([{ at: expect.any(String), from: 'desk', text: expect.stringContaining('Ana') }]);
    expect(answer.reply.startsWith(answer.notes[0]?.text ?? '?')).toBe(true);
    expect(answer.escalation).toMatchObject({ state: 'claimed', claimedBy: 'Ana' });
    expect(d.says('and on the floor').notes).toEqual([]);
  });

  test('by a poll, which changes nothing else', () => {
    const d = handedOver();
    d.acts({ act: 'claim' });
    const before = d.store.load(d.caseId());
    expect(texts(d.polls())).toHaveLength(1);
    expect(texts(d.polls())).toEqual([]);
    expect(d.store.load(d.caseId())).toEqual(before);
    expect(d.store.rebuild(d.caseId())).toEqual(before);
  });

  test('a poll with an id gets the same notes again, and its answer is the stored one', () => {
    const d = handedOver();
    d.acts({ act: 'claim' });
    const first = d.polls({ id: 'p1' });
    expect(texts(first)).toHaveLength(1);
    expect(d.polls({ id: 'p1' })).toEqual(first);
    expect(d.polls({ id: 'p2' }).notes).toEqual([]);
  });

  test('after a restart, on another process, once', () => {
    const d = handedOver();
    d.acts({ act: 'claim' });
    d.restarts();
    expect(texts(d.polls())).toHaveLength(1);
    d.restarts();
    expect(texts(d.polls())).toEqual([]);
  });

  test('nothing waits where the desk did nothing, and in a case that is not there', () => {
    expect(handedOver().polls().notes).toEqual([]);
    const none = desk();
    expect(none.polls().notes).toEqual([]);
    expect(none.store.cases()).toEqual([]);
  });
});

describe('each person is told once', () => {
  const tech = { by: 'u2', role: 'technician' } as const;

  test('two who are in the case', () => {
    const d = handedOver();
    d.says('I am on site', tech);
    d.acts({ act: 'claim' });
    expect(texts(d.polls())).toHaveLength(1);
    expect(texts(d.polls(tech))).toEqual(['Ana has claimed the case.']);
    expect(texts(d.polls())).toEqual([]);
    expect(texts(d.polls(tech))).toEqual([]);
  });

  test('who comes later is told what nobody has read, and not what somebody has', () => {
    const read = handedOver();
    read.acts({ act: 'claim' });
    read.polls();
    expect(read.says('I am on site', tech).notes).toEqual([]);
    const unread = handedOver();
    unread.acts({ act: 'claim' });
    expect(texts(unread.says('I am on site', tech))).toHaveLength(1);
    expect(texts(unread.polls())).toHaveLength(1);
  });

  test('nobody is told of their own act', () => {
    const d = handedOver();
    d.says('I will take it', { by: 'Ana', role: 'senior' });
    d.acts({ act: 'claim' });
    expect(d.polls({ by: 'Ana', role: 'senior' }).notes).toEqual([]);
    expect(texts(d.polls())).toHaveLength(1);
  });

  test('two processes that ask for one person at once: one gets the notes', () => {
    const store = openStore(':memory:');
    const d = desk({}, store);
    d.says('a person please');
    d.acts({ act: 'claim' });
    let raced: string[] | null = null;
    const slow = {
      ...store,
      append: (turn: Parameters<typeof store.append>[0]) => {
        raced ??= texts(d.polls());
        return store.append(turn);
      },
    };
    const talk = new Conversations(knowledge, slow, {
      channel: 'test',
      contact: null,
      units: null,
      greeted: true,
      pagePath: () => null,
      writePage: () => undefined,
      onTrouble: (_, error) => {
        throw error;
      },
      now: d.now,
    });
    const from = { id: 'u1', role: 'homeowner' } as const;
    const handled = talk.handle({ conversation: 'kitchen', from, id: null, at: null, said: { kind: 'poll' } });
    expect(raced).toHaveLength(1);
    expect(handled.ok && handled.answer.notes).toEqual([]);
  });
});

describe('the desk asks', () => {
  test('given a question that was read, then the next text goes to the desk, and to nobody else', () => {
    const d = handedOver();
    d.acts({ act: 'claim' });
    d.acts({ act: 'ask', text: 'Is it a rented flat?' });
    expect(texts(d.polls()).at(-1)).toContain('Is it a rented flat?');
    expect(d.polls().escalation?.state).toBe('claimed');
    const answer = d.says('my landlord lives upstairs');
    expect(answer.reply).toContain('passed that on to Ana');
    expect(answer.offTopic).toBe(false);
    expect(d.store.events(d.caseId()).filter((e) => e.type === 'desk-answered')).toMatchObject([
      { by: 'u1', text: 'my landlord lives upstairs' },
    ]);
    expect(d.says('it is blue').reply).not.toContain('passed');
  });

  test('given a message that crossed the question, then it is no answer to it', () => {
    const d = handedOver();
    d.acts({ act: 'claim' });
    d.acts({ act: 'ask', text: 'Is it a rented flat?' });
    expect(texts(d.says('thanks')).at(-1)).toContain('Is it a rented flat?');
    expect(d.store.load(d.caseId())?.escalation?.asked).toBe('Ana');
    expect(d.says('yes it is').reply).toContain('passed that on');
  });

  test('a tap and a reading go to the case, the question stands', () => {
    const d = handedOver();
    d.acts({ act: 'claim' });
    d.acts({ act: 'ask', text: 'Is it a rented flat?' });
    d.polls();
    d.answers('frost.kind', 'soft-snow');
    expect(d.store.load(d.caseId())?.escalation?.asked).toBe('Ana');
  });

  test('a danger in the answer is heard all the same', () => {
    const d = handedOver();
    d.acts({ act: 'claim' });
    d.acts({ act: 'ask', text: 'What do you hear?' });
    d.polls();
    const answer = d.says(DANGER);
    expect(answer.hazards).toMatchObject([{ hazard: 'burning-smell', level: 'stop' }]);
    expect(answer.escalation).toMatchObject({ kind: 'hazard', urgency: 'now', state: 'claimed', claimedBy: 'Ana' });
  });

  test('a danger comes before what waited', () => {
    const d = handedOver();
    d.acts({ act: 'claim' });
    expect(d.says(DANGER).reply.startsWith('STOP')).toBe(true);
  });
});

describe('a stop hazard at the desk', () => {
  test('stands until the technician who claimed it clears it; then the caller is told and the talk goes on', () => {
    const d = desk();
    d.says(DANGER);
    expect(d.acts({ act: 'clear', hazard: 'burning-smell' })).toMatchObject({ ok: false });
    d.acts({ act: 'claim' });
    expect(d.acts({ act: 'clear', hazard: 'burning-smell' }, 'Bo')).toMatchObject({ ok: false });
    expect(d.says('is it safe now?').reply).toContain('STOP');
    expect(d.acts({ act: 'clear', hazard: 'burning-smell' })).toMatchObject({ ok: true });
    const answer = d.polls();
    expect(texts(answer)).toEqual([expect.stringContaining('safe again')]);
    expect(answer.escalation?.safety.hazards).toEqual([]);
    expect(answer.status).toBe('escalated');
  });

  test('that nobody claims in time: the caller is told not to wait, once', () => {
    const d = desk();
    d.says(DANGER);
    d.later(1);
    expect(texts(d.polls())).toEqual([expect.stringContaining('No technician has taken your case')]);
    d.later(1);
    expect(d.polls().notes).toEqual([]);
    expect(d.store.load(d.caseId())?.escalation?.overdue).toBe(true);
  });

  test('a visit that waits too long is a reminder for the desk alone', () => {
    const d = handedOver();
    d.later(100);
    expect(d.polls().notes).toEqual([]);
    expect(d.store.load(d.caseId())?.escalation?.overdue).toBe(true);
  });
});

test('given the desk closes it, then the caller reads the cause, and a message opens it again', () => {
  const d = handedOver();
  d.acts({ act: 'claim' });
  d.acts({ act: 'close', cause: 'gasket-failed', fixed: 'A new seal.', parts: 'seal' });
  const answer = d.polls();
  expect(answer).toMatchObject({ status: 'closed', escalation: { state: 'closed' } });
  const [, closed] = texts(answer);
  expect(closed).toContain(knowledge.faults.get('gasket-failed')?.name.homeowner);
  expect(closed).toContain('A new seal.');
  expect(d.says('the frost is back on the back wall').status).toBe('open');
});

describe('two desks', () => {
  test('that claim in the same moment: one gets it, the other is told who has it', () => {
    const d = handedOver();
    let other: ReturnType<Desk['acts']> | null = null;
    const slow = {
      ...d.store,
      happen: (happening: Parameters<Desk['store']['happen']>[0]) => {
        other ??= d.acts({ act: 'claim' }, 'Bo');
        return d.store.happen(happening);
      },
    };
    const mine = workAtDesk(knowledge, slow, d.caseId(), { act: 'claim' }, 'Ana', d.now());
    expect(other).toMatchObject({ ok: true });
    expect(mine).toEqual({ ok: false, refusal: { why: 'taken', by: 'Bo' } });
    expect(d.store.events(d.caseId()).filter((e) => e.type === 'claimed')).toHaveLength(1);
  });

  test('and a caller who writes meanwhile lose nothing of each other', () => {
    const d = handedOver();
    let said = false;
    const slow = {
      ...d.store,
      happen: (happening: Parameters<Desk['store']['happen']>[0]) => {
        if (!said) d.says('there is frost on the back wall');
        said = true;
        return d.store.happen(happening);
      },
    };
    expect(workAtDesk(knowledge, slow, d.caseId(), { act: 'claim' }, 'Ana', d.now()).ok).toBe(true);
    const state = d.store.load(d.caseId());
    expect(state?.facts['frost.location']?.values).toEqual(['freezer-back-wall']);
    expect(state?.escalation?.claimedBy).toBe('Ana');
    expect(d.store.rebuild(d.caseId())).toEqual(state);
  });

  test('a case that nobody has is no case', () => {
    expect(workAtDesk(knowledge, handedOver().store, 'NONE2222', { act: 'claim' }, 'Ana', new Date(0))).toEqual({
      ok: false,
      refusal: { why: 'no-case' },
    });
  });
});

describe('the page of a hand-over', () => {
  test('is written with the hand-over, and the caller reads back what stands on it', () => {
    const d = desk();
    d.answers('frost.location', 'freezer-back-wall');
    const answer = d.says('a person please');
    expect(d.pages).toHaveLength(1);
    expect(d.pages[0]?.html).toContain('<!doctype html>');
    expect(answer.reply).toContain('This is what I wrote down for the technician');
    expect(answer.reply).toContain(knowledge.findings.get('frost.location')?.choices['freezer-back-wall']?.homeowner);
    expect(answer.reply).toContain(`pages/${d.caseId()}.html`);
  });

  test('is renewed by a correction, and by what the desk does', () => {
    const d = desk();
    d.answers('frost.location', 'freezer-back-wall');
    d.says('a person please');
    d.answers('frost.location', 'freezer-floor');
    expect(d.pages).toHaveLength(2);
    const label = knowledge.findings.get('frost.location')?.choices['freezer-floor']?.technician ?? '?';
    expect(d.pages[1]?.html).toContain(label);
    d.acts({ act: 'claim' });
    d.talk.deliver();
    expect(d.pages).toHaveLength(3);
    expect(d.pages[2]?.html).toContain('Claimed by Ana.');
  });

  test('that an earlier version left waiting is still written', () => {
    const d = handedOver();
    const happening = { caseId: d.caseId(), at: d.now().toISOString(), events: [], dueAt: null } as const;
    const state = d.store.load(d.caseId());
    if (!state) throw new Error('no case');
    const renewed = { [`page-${d.caseId()}`]: '# Hazard, now: as it was written then\n' };
    d.store.happen({ ...happening, from: state.version, state, status: 'escalated', renewed });
    d.talk.deliver();
    expect(d.pages.at(-1)).toEqual({ markdown: '# Hazard, now: as it was written then\n', html: null });
  });
});
