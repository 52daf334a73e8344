// An escalation's life: given its state, when somebody at the desk acts, then these events, or this refusal.

import { describe, expect, test } from 'vitest';
import { caseEvent, type CaseEvent } from '../../src/case/events.js';
import { isEscalated, standingStops, statusOf } from '../../src/case/look.js';
import { fold, newCase, type CaseState } from '../../src/case/state.js';
import { actOn, type Act } from '../../src/desk/act.js';
import { historyOf } from '../../src/desk/history.js';
import { overdue, overdueAt } from '../../src/desk/overdue.js';
import { worklist } from '../../src/desk/work.js';
import { knowledge } from './a-desk.js';

const AT = '2026-11-25T10:00:00.000Z';
const at = AT;
const escalated = (
  kind: Extract<CaseEvent, { type: 'escalated' }>['kind'] = 'visit',
  urgency: Extract<CaseEvent, { type: 'escalated' }>['urgency'] = 'today',
  when = AT,
): CaseEvent => ({ type: 'escalated', at: when, id: 'e1', kind, urgency });
const hazard: CaseEvent = { type: 'hazard-raised', at, by: 'u1', hazard: 'gas-smell', level: 'stop', silent: false };

const given = (...events: CaseEvent[]): CaseState => fold(newCase(AT, 'homeowner'), events);
const claimed = (by = 'Ana'): CaseEvent => ({ type: 'claimed', at, by });

const when = (state: CaseState, act: Act, by = 'Ana'): ReturnType<typeof actOn> =>
  actOn(knowledge, state, act, { at, by });
const then = (state: CaseState, act: Act, by = 'Ana'): CaseState => {
  const acted = when(state, act, by);
  if (!acted.ok) throw new Error(acted.refusal.why);
  return fold(state, acted.events);
};
const close = (cause: string): Act => ({ act: 'close', cause, fixed: 'a new one', parts: null });

describe('claiming', () => {
  test('given one that waits, then it is claimed by who asked', () => {
    expect(then(given(escalated()), { act: 'claim' }).escalation).toMatchObject({
      state: 'claimed',
      claimedBy: 'Ana',
      since: AT,
    });
  });

  test('given one that another has, then the other is named and nothing changes', () => {
    expect(when(given(escalated(), claimed()), { act: 'claim' }, 'Bo')).toEqual({
      ok: false,
      refusal: { why: 'taken', by: 'Ana' },
    });
  });

  test('given one that is hers already, then nothing happens twice', () => {
    expect(when(given(escalated(), claimed()), { act: 'claim' })).toEqual({ ok: true, events: [] });
  });

  test('given nothing open, then it is refused', () => {
    const fixed: CaseEvent = { type: 'escalation-ended', at, by: 'u1', how: 'fixed' };
    for (const state of [given(), given(escalated(), fixed)])
      expect(when(state, { act: 'claim' })).toEqual({ ok: false, refusal: { why: 'nothing-open' } });
  });
});

describe('every other act', () => {
  const acts: Act[] = [
    { act: 'ask', text: 'Which model?' },
    { act: 'hand-back', text: null },
    close('drain-iced'),
    { act: 'clear', hazard: 'gas-smell' },
  ];
  test.each(acts)('$act is for the one who claimed it', (act) => {
    expect(when(given(hazard, escalated()), act)).toEqual({ ok: false, refusal: { why: 'not-claimed' } });
    expect(when(given(hazard, escalated(), claimed('Bo')), act)).toEqual({
      ok: false,
      refusal: { why: 'taken', by: 'Bo' },
    });
  });
});

describe('asking back', () => {
  test('given a question, then it stays claimed until the caller answers, and the words are kept', () => {
    const asked = then(given(escalated(), claimed()), { act: 'ask', text: 'Which model?' });
    expect(asked.escalation).toMatchObject({ state: 'claimed', asked: 'Ana', answered: false });
    const answered = fold(asked, [{ type: 'desk-answered', at, by: 'u1', text: 'The tall one' }]);
    expect(answered.escalation).toMatchObject({ state: 'claimed', asked: null, answered: true });
    expect(then(answered, { act: 'ask', text: 'And its age?' }).escalation?.answered).toBe(false);
  });
});

test('given one handed back, then it waits for anyone, and the caller is asked nothing any more', () => {
  const asked = then(given(escalated(), claimed()), { act: 'ask', text: 'Which model?' });
  const back = then(asked, { act: 'hand-back', text: 'not my area' });
  expect(back.escalation).toMatchObject({ state: 'waiting', claimedBy: null, asked: null });
  expect(then(back, { act: 'claim' }, 'Bo').escalation?.claimedBy).toBe('Bo');
});

describe('closing', () => {
  test.each(['drain-iced', 'something-else', 'not-found'])('with %s ends the case and keeps the cause', (cause) => {
    const closed = then(given(escalated(), claimed()), close(cause));
    expect(closed).toMatchObject({ closed: true, closedAs: 'desk', confirmed: { cause } });
    expect(closed.escalation).toMatchObject({ state: 'closed', claimedBy: 'Ana' });
    expect(isEscalated(closed)).toBe(false);
    expect(statusOf(closed)).toBe('closed');
  });

  test('with a cause that nobody knows is refused', () => {
    expect(when(given(escalated(), claimed()), close('gremlins'))).toEqual({
      ok: false,
      refusal: { why: 'unknown-cause', cause: 'gremlins' },
    });
  });

  test('given a stop hazard, then it has to be cleared first', () => {
    const state = given(hazard, escalated('hazard', 'now'), claimed());
    expect(when(state, close('not-found'))).toEqual({
      ok: false,
      refusal: { why: 'hazards-stand', hazards: ['gas-smell'] },
    });
    const cleared = then(state, { act: 'clear', hazard: 'gas-smell' });
    expect(standingStops(cleared)).toEqual([]);
    expect(isEscalated(cleared)).toBe(true);
    expect(then(cleared, close('not-found')).closed).toBe(true);
  });
});

test('given no such hazard, or one that is cleared, then clearing is refused', () => {
  const state = given(hazard, escalated('hazard', 'now'), claimed());
  const refusal = { ok: false, refusal: { why: 'unknown-hazard' } };
  expect(when(state, { act: 'clear', hazard: 'injury' })).toMatchObject(refusal);
  expect(when(then(state, { act: 'clear', hazard: 'gas-smell' }), { act: 'clear', hazard: 'gas-smell' })).toMatchObject(
    refusal,
  );
});

describe('waiting too long', () => {
  const minutes = (n: number): string => new Date(Date.parse(AT) + n * 60_000).toISOString();

  test.each(['now', 'today', 'routine'] as const)('%s is overdue after its own minutes, and said once', (urgency) => {
    const limit = knowledge.waits.overdue[urgency].value;
    const state = given(escalated('visit', urgency));
    expect(overdueAt(knowledge, state)).toBe(minutes(limit));
    expect(overdue(knowledge, state, minutes(limit - 1))).toEqual([]);
    const events = overdue(knowledge, state, minutes(limit));
    expect(events).toEqual([{ type: 'overdue', at: minutes(limit), urgency }]);
    const said = fold(state, events);
    expect(said.escalation).toMatchObject({ state: 'waiting', overdue: true });
    expect(overdue(knowledge, said, minutes(10 * limit))).toEqual([]);
  });

  test('the more urgent, the sooner', () => {
    const { now, today, routine } = knowledge.waits.overdue;
    expect(now.value).toBeLessThan(today.value);
    expect(today.value).toBeLessThan(routine.value);
  });

  test('a claimed one is never overdue; one that was handed back counts from then on', () => {
    const state = given(escalated('hazard', 'now'), claimed());
    expect(overdueAt(knowledge, state)).toBeNull();
    const back = fold(state, [{ type: 'handed-back', at: minutes(600), by: 'Ana', text: null }]);
    expect(overdueAt(knowledge, back)).toBe(minutes(600 + knowledge.waits.overdue.now.value));
  });

  test('one that becomes more urgent is reminded of anew', () => {
    const late: CaseEvent = { type: 'overdue', at: minutes(9000), urgency: 'routine' };
    const raised: CaseEvent = { type: 'escalation-raised', at: minutes(9001), kind: 'hazard', urgency: 'now' };
    expect(overdue(knowledge, given(escalated('visit', 'routine'), late, raised), minutes(9001))).toHaveLength(1);
  });
});

test('the list holds what is open, the most urgent first, then the oldest', () => {
  const work = (caseId: string, ...events: CaseEvent[]): { caseId: string; state: CaseState } => ({
    caseId,
    state: given(...events),
  });
  const ended: CaseEvent = { type: 'escalation-ended', at, by: 'u1', how: 'fixed' };
  const list = worklist([
    work('routine', escalated('visit', 'routine', '2026-11-20T10:00:00Z')),
    work('ended', escalated('hazard', 'now'), ended),
    work('newer', escalated('hazard', 'now', '2026-11-25T11:00:00Z')),
    // the same moment an hour earlier, written with another offset
    work('older', escalated('hazard', 'now', '2026-11-25T12:00:00+02:00')),
    work('today', escalated('visit', 'today')),
    work('plain'),
  ]);
  expect(list.map((w) => w.caseId)).toEqual(['older', 'newer', 'today', 'routine']);
});

test('who did what and when is kept', () => {
  const events: CaseEvent[] = [
    escalated(),
    claimed(),
    { type: 'desk-asked', at, by: 'Ana', text: 'Which model?' },
    { type: 'desk-answered', at, by: 'u1', text: 'The tall one' },
    { type: 'handed-back', at, by: 'Ana', text: 'not my area' },
    { type: 'overdue', at, urgency: 'today' },
    { type: 'claimed', at, by: 'Bo' },
    { type: 'hazard-cleared', at, by: 'Bo', hazard: 'gas-smell', how: 'technician' },
    { type: 'hazard-cleared', at, by: 'u1', hazard: 'injury', how: 'taken-back' },
    { type: 'cause-confirmed', at, by: 'Bo', cause: 'drain-iced', fixed: 'thawed', parts: null },
  ];
  expect(historyOf(events).map(({ by, what, text }) => [by, what, text])).toEqual([
    ['', 'escalated', null],
    ['Ana', 'claimed', null],
    ['Ana', 'asked', 'Which model?'],
    ['u1', 'answered', 'The tall one'],
    ['Ana', 'handed-back', 'not my area'],
    ['', 'overdue', null],
    ['Bo', 'claimed', null],
    ['Bo', 'cleared', 'gas-smell'],
    ['Bo', 'closed', 'drain-iced; thawed'],
  ]);
});

// Events as the first schema of the store holds them: they are read as ever.
test('events of earlier stores are still read', () => {
  const old = [
    { type: 'escalated', at, id: 'e1', kind: 'hazard', urgency: 'now' },
    { type: 'escalation-raised', at, kind: 'hazard', urgency: 'now' },
    { type: 'hazard-cleared', at, by: 'u1', hazard: 'gas-smell', how: 'taken-back' },
    { type: 'escalation-ended', at, by: 'u1', how: 'fixed' },
    { type: 'closed', at, by: 'u1', why: 'fixed' },
    { type: 'reopened', at, by: 'u1' },
    { type: 'advised', at, remedy: 'clean-gasket', fault: 'gasket-dirty', words: 'homeowner' },
  ];
  const events = old.map((e) => caseEvent.parse(e));
  expect(given(...events)).toMatchObject({ version: old.length, closed: false, escalation: { state: 'closed' } });
});
