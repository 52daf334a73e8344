// When a case asks by itself: given what happened in it, when it is this late, then this is due, or nothing.

import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { CaseEvent } from '../../src/case/events.js';
import { due, hoursUntilResult, nextDue, promised, type Due } from '../../src/case/follow-up.js';
import { fold, newCase, type CaseState } from '../../src/case/state.js';
import { realKnowledge } from '../support/knowledge.js';

const knowledge = realKnowledge();
const { waits } = knowledge;
/** Noon, so that a whole number of days later is noon again. */
const NOON = '2026-11-25T12:00:00.000Z';
const HOUR = 3_600_000;
const after = (hours: number): string => new Date(Date.parse(NOON) + hours * HOUR).toISOString();

const heard = (hours = 0): CaseEvent[] => [
  { type: 'heard', at: after(hours), by: 'u1', role: 'homeowner', kind: 'text' },
];
const opened: CaseEvent[] = [{ type: 'opened', at: NOON, by: 'u1', role: 'homeowner' }, ...heard()];
const THAW = ['drain-iced', 'thaw-and-clear-drain'] as const;
const NO_THAW = ['gasket-dirty', 'clean-gasket'] as const;
const advised = ([fault, remedy]: readonly [string, string], hours = 0): CaseEvent => ({
  type: 'advised',
  at: after(hours),
  remedy,
  fault,
  words: 'homeowner',
});
const asked = (about: Extract<Due, { kind: 'ask' }>['about'], place: number | null, hours: number): CaseEvent => ({
  type: 'followed-up',
  at: after(hours),
  about,
  place,
});
const fixed = (hours: number): CaseEvent => ({ type: 'closed', at: after(hours), by: 'u1', why: 'fixed' });
const given = (...events: CaseEvent[]): CaseState => fold(newCase(NOON, 'homeowner'), [...opened, ...events]);
const at = (state: CaseState, hours: number, machine = 0): Due | null => due(knowledge, state, after(hours), machine);
const ask = (about: string, place: number | null): unknown => ({ kind: 'ask', about, place });

test('the remedies of these tests are one with a thaw and one without', () => {
  expect(knowledge.places.thaws).toContain(THAW[1]);
  expect(knowledge.places.thaws).not.toContain(NO_THAW[1]);
});

describe('after a repair', () => {
  test('the temperatures are asked for once they have settled, and once only', () => {
    const state = given(advised(NO_THAW));
    expect(at(state, waits.afterRepair.value - 1)).toBeNull();
    expect(at(state, waits.afterRepair.value)).toEqual(ask('temperatures', 0));
    const once = fold(state, [asked('temperatures', 0, 24)]);
    expect(at(once, 25)).toBeNull();
    expect(at(once, 24 * 6)).toBeNull();
  });

  test("a fault's own time goes before the common one", () => {
    const own = { remedy: 'clean-gasket', fault: 'gasket-dirty', words: 'homeowner', at: NOON } as const;
    const fault = knowledge.faults.get('gasket-dirty');
    if (!fault) throw new Error('no such fault');
    const askAfter = { value: 48, unit: 'h', source: 'common-practice' } as const;
    const repair = { ...fault.repair, homeowner: { ...fault.repair.homeowner, askAfter } };
    const slower = { ...knowledge, faults: new Map([...knowledge.faults, ['gasket-dirty', { ...fault, repair }]]) };
    expect(hoursUntilResult(slower, own)).toBe(48);
    expect(hoursUntilResult(knowledge, own)).toBe(waits.afterRepair.value);
  });

  test('new advice counts anew', () => {
    const state = given(advised(NO_THAW), asked('temperatures', 0, 24), ...heard(25), advised(NO_THAW, 26));
    expect(at(state, 26 + 24)).toEqual(ask('temperatures', 0));
  });
});

describe('after a thaw', () => {
  const [week = 0, weeks = 0] = waits.afterThaw.map((w) => w.value);

  // Common practice: a dead defrost shows as frost again within one to three weeks of a thaw.
  test('the frost is asked for after a week and after three', () => {
    expect([week, weeks]).toEqual([7 * 24, 21 * 24]);
    const state = given(advised(THAW), asked('temperatures', 0, 24), ...heard(30));
    expect(at(state, week - 1)).toBeNull();
    expect(at(state, week)).toEqual(ask('frost', 1));
    const once = fold(state, [asked('frost', 1, week), ...heard(week + 1)]);
    expect(at(once, weeks - 1)).toBeNull();
    expect(at(once, weeks)).toEqual(ask('frost', 2));
  });

  test('given a case that is closed as fixed, then its frost is still asked for', () => {
    const state = given(advised(THAW), ...heard(30), fixed(30));
    expect(at(state, 48)).toBeNull();
    expect(at(state, week)).toEqual(ask('frost', 1));
  });

  test('given nobody looked for a month, then only the last is asked, not three at once', () => {
    const state = given(advised(THAW));
    expect(at(state, 30 * 24)).toEqual(ask('frost', 2));
    expect(at(fold(state, [asked('frost', 2, 30 * 24)]), 31 * 24)).toBeNull();
  });

  test('all of it is promised with the advice', () => {
    expect(promised(knowledge, given(advised(THAW))).map((p) => p.hours)).toEqual([24, week, weeks]);
    expect(promised(knowledge, given(advised(NO_THAW))).map((p) => p.hours)).toEqual([24]);
    expect(promised(knowledge, given())).toEqual([]);
  });
});

describe('a quiet case', () => {
  const quiet = waits.quiet.value;
  const end = quiet + waits.unanswered.value;

  test('is asked once, then closed', () => {
    const state = given();
    expect(at(state, quiet - 1)).toBeNull();
    expect(at(state, quiet)).toEqual(ask('quiet', null));
    const once = fold(state, [asked('quiet', null, quiet)]);
    expect(at(once, end - 1)).toBeNull();
    expect(at(once, end)).toEqual({ kind: 'close' });
    const closed = fold(once, [{ type: 'closed', at: after(end), by: '', why: 'unanswered' }]);
    expect(at(closed, 10 * end)).toBeNull();
  });

  test('that answers is quiet only after that', () => {
    const state = given(asked('quiet', null, quiet), ...heard(quiet + 5));
    expect(at(state, quiet + 5 + quiet - 1)).toBeNull();
    expect(at(state, quiet + 5 + quiet)).toEqual(ask('quiet', null));
  });

  test('with an open hand-over is left to the desk', () => {
    const handedOver: CaseEvent = { type: 'escalated', at: NOON, id: 'e1', kind: 'visit', urgency: 'routine' };
    expect(at(given(advised(THAW), handedOver), 1000)).toBeNull();
    expect(nextDue(knowledge, given(handedOver), 0)).toBeNull();
  });

  test('closed by the desk, or unanswered, asks nothing any more', () => {
    for (const why of ['desk', 'unanswered'] as const)
      expect(at(given(advised(THAW), { type: 'closed', at: NOON, by: 'x', why }), 1000)).toBeNull();
  });
});

test('given "stop asking", then nothing is due, ever', () => {
  const stopped: CaseEvent = { type: 'follow-ups-stopped', at: NOON, by: 'u1' };
  for (const state of [given(stopped), given(advised(THAW), stopped), given(asked('quiet', null, 72), stopped)]) {
    expect(at(state, 10_000)).toBeNull();
    expect(nextDue(knowledge, state, 0)).toBeNull();
  }
});

describe('at night', () => {
  // the advice is given at 23:00 in New York (UTC-5), so that a day later it is 23:00 there again
  const night = given(advised(NO_THAW, 16));
  const known = (minutes: number, told = false): CaseEvent => ({
    type: 'offset-known',
    at: NOON,
    by: 'u1',
    minutes,
    told,
  });

  test('nobody is asked, by the clock of the person, and it is asked in the morning', () => {
    const state = fold(night, [known(-300)]);
    expect(at(state, 16 + 24)).toBeNull();
    // 07:59 and 08:00 there
    expect(due(knowledge, state, '2026-11-27T12:59:00Z', 0)).toBeNull();
    expect(due(knowledge, state, '2026-11-27T13:00:00Z', 0)).toEqual(ask('temperatures', 0));
    expect(nextDue(knowledge, state, 0)).toBe('2026-11-27T13:00:00.000Z');
  });

  test('a clock that is not known is taken for the one of this machine', () => {
    expect(at(night, 16 + 24, -300)).toBeNull();
    // 06:00 in the morning in Kathmandu (UTC+5:45), which is east of Greenwich by no whole hour
    expect(due(knowledge, night, '2026-11-27T00:15:00Z', 345)).toBeNull();
    expect(due(knowledge, night, '2026-11-28T02:15:00Z', 345)).toEqual(ask('temperatures', 0));
  });

  test('a person who looks at night is asked in the morning, however long it is due', () => {
    expect(due(knowledge, fold(night, [known(-300)]), '2026-12-09T07:00:00Z', 0)).toBeNull();
  });
});

test('whatever happens, it is due when it was said to be, and never in the night', () => {
  const hours = fc.integer({ min: 0, max: 40 * 24 });
  const offset = fc.integer({ min: -720, max: 840 });
  const happened = fc.array(
    fc.oneof(
      hours.map((h) => heard(h)),
      fc.tuple(fc.constantFrom(THAW, NO_THAW), hours).map(([a, h]) => [advised(a, h)]),
      hours.map((h) => [fixed(h)]),
    ),
    { maxLength: 6 },
  );
  fc.assert(
    fc.property(happened, offset, hours, (events, minutes, later) => {
      const state = given(...events.flat());
      const next = nextDue(knowledge, state, minutes);
      const now = due(knowledge, state, after(later), minutes);
      expect(next !== null || now === null).toBe(true);
      if (next === null) return;
      expect(due(knowledge, state, next, minutes)).not.toBeNull();
      if (now) expect(Date.parse(next)).toBeLessThanOrEqual(Date.parse(after(later)));
      if (now?.kind !== 'ask') return;
      const clock = new Date(Date.parse(after(later)) + minutes * 60_000).getUTCHours();
      expect(clock).toBeGreaterThanOrEqual(waits.night.to.value);
      expect(clock).toBeLessThan(waits.night.from.value);
    }),
    { numRuns: 500 },
  );
});
