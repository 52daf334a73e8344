import { describe, expect, test } from 'vitest';
import { appliesTo, candidatesOf, openedIn, type Gate } from '../../src/diagnosis/candidates.js';
import type { Candidate } from '../../src/diagnosis/plan.js';
import type { Step } from '../../src/knowledge/facts.js';
import { NEEDED_FINDINGS as F } from '../../src/knowledge/named.js';
import { realKnowledge } from '../support/knowledge.js';
import { known, type Known } from './a-state.js';

const knowledge = realKnowledge();
const open: Gate = { kind: 'open' };
const shut: Gate = { kind: 'shut' };
const candidates = (
  state: Known = {},
  gate: (step: Step) => Gate = () => open,
  useless: readonly string[] = [],
): readonly Candidate[] => candidatesOf(knowledge, known(state), gate, new Set(useless));
const ids = (...args: Parameters<typeof candidates>): string[] => candidates(...args).map((c) => c.step.id);
const minutesOf = (id: string, ...args: Parameters<typeof candidates>): number =>
  candidates(...args).find((c) => c.step.id === id)?.minutes ?? NaN;

describe('what could be asked', () => {
  test('is never what is only a precondition, tells nothing, or is asked after advice', () => {
    for (const id of ids()) {
      const step = knowledge.steps.get(id);
      expect(step?.planned && step.table !== null, id).toBe(true);
    }
    expect(ids()).not.toContain(F.result);
    expect(ids()).not.toContain(F.power);
  });

  test('is not what is answered, be it with "not sure"', () => {
    expect(ids()).toContain('door.closes-fully');
    expect(ids({ facts: { 'door.closes-fully': 'yes' } })).not.toContain('door.closes-fully');
    expect(ids({ facts: { 'door.closes-fully': null } })).not.toContain('door.closes-fully');
    expect(ids({ denied: { 'door.closes-fully': ['yes'] } })).not.toContain('door.closes-fully');
  });

  test('is not what was asked twice without an answer', () => {
    expect(ids({ asked: { 'door.closes-fully': 1 } })).toContain('door.closes-fully');
    expect(ids({ asked: { 'door.closes-fully': 2 } })).not.toContain('door.closes-fully');
  });

  test('is not what safety shuts', () => {
    expect(ids({}, () => shut)).toEqual([]);
    expect(
      ids({}, (step) => (step.needs.skill === 'live' ? shut : open)).some(
        (id) => knowledge.steps.get(id)?.needs.skill === 'live',
      ),
    ).toBe(false);
  });

  test('is not what makes no sense for this unit', () => {
    const timer: Known = { facts: { 'unit.defrost-control': 'mechanical-timer' } };
    const electronic: Known = { facts: { 'unit.defrost-control': 'electronic-control' } };
    expect(ids(timer)).toContain('timer-motor.resistance');
    expect(ids(electronic)).not.toContain('timer-motor.resistance');
  });

  test('is a reading until it is taken, and again when it told nothing; never when it can not be taken', () => {
    const reading = 'supply.voltage';
    expect(ids()).toContain(reading);
    expect(ids({ readings: [reading] })).not.toContain(reading);
    expect(ids({ readings: [reading] }, () => open, [reading])).toContain(reading);
    expect(ids({ unmeasurable: [reading] })).not.toContain(reading);
  });
});

describe('whether a step makes sense for this unit', () => {
  const step = (applies: Step['applies']): Step => ({
    ...(knowledge.findings.get('door.closes-fully') as Step),
    id: 'some.step',
    applies,
  });
  const timer = step({ 'unit.defrost-control': { in: ['mechanical-timer'] } });
  const noTimer = step({ 'unit.defrost-control': { not: ['mechanical-timer'] } });
  const of = (what: Step, state: Known): Gate => appliesTo(knowledge, known(state), what);

  test('an unknown condition is asked first, twice at the most', () => {
    expect(of(timer, {})).toEqual({ kind: 'first', finding: 'unit.defrost-control' });
    expect(of(timer, { asked: { 'unit.defrost-control': 1 } }).kind).toBe('first');
    expect(of(timer, { asked: { 'unit.defrost-control': 2 } })).toEqual(open);
  });

  test('"not sure" lets it pass', () => {
    expect(of(timer, { facts: { 'unit.defrost-control': null } })).toEqual(open);
  });

  test('a known condition decides', () => {
    expect(of(timer, { facts: { 'unit.defrost-control': 'mechanical-timer' } })).toEqual(open);
    expect(of(timer, { facts: { 'unit.defrost-control': 'electronic-control' } })).toEqual(shut);
    expect(of(noTimer, { facts: { 'unit.defrost-control': 'mechanical-timer' } })).toEqual(shut);
    expect(of(noTimer, { facts: { 'unit.defrost-control': 'electronic-control' } })).toEqual(open);
  });

  test('all its values ruled out shut it', () => {
    expect(of(timer, { denied: { 'unit.defrost-control': ['mechanical-timer'] } })).toEqual(shut);
    expect(of(noTimer, { denied: { 'unit.defrost-control': ['electronic-control'] } })).toEqual(open);
  });

  test('in the real folder every step can be reached: no chain of conditions leads back to itself', () => {
    for (const start of knowledge.steps.values()) {
      const path = [start.id];
      let at: Step | undefined = start;
      for (;;) {
        const gate: Gate = appliesTo(knowledge, known({}), at);
        if (gate.kind !== 'first') break;
        expect(path, `${start.id} asks for itself`).not.toContain(gate.finding);
        path.push(gate.finding);
        at = knowledge.findings.get(gate.finding);
        if (!at) throw new Error(`${path.join(' asks for ')}, which is not there`);
      }
    }
  });
});

describe('what it costs', () => {
  test('is its minutes, and more when something must be settled first', () => {
    const step = knowledge.steps.get('door.closes-fully') as Step;
    const plain = minutesOf(step.id);
    expect(plain).toBeGreaterThan(step.minutes);
    const first = (s: Step): Gate => (s.id === step.id ? { kind: 'first', finding: F.warranty } : open);
    expect(minutesOf(step.id, {}, first)).toBeGreaterThan(plain);
  });

  test('counts the waiting', () => {
    const waits = [...knowledge.steps.values()].filter((s) => s.waitHours > 0);
    expect(waits.length).toBeGreaterThan(0);
    for (const { id, minutes, waitHours } of waits)
      if (ids().includes(id))
        expect(minutesOf(id)).toBeGreaterThanOrEqual(minutes + waitHours * knowledge.costs.waitHour);
  });

  test('leaves out what is open already', () => {
    const behind = [...knowledge.findings.values()].find((f) => f.needs.open.includes('freezer-rear-panel')) as Step;
    const other = [...knowledge.steps.values()].find(
      (s) => s.id !== behind.id && s.needs.open.includes('freezer-rear-panel'),
    ) as Step;
    const opens = (state: Known): string[] => [
      ...(candidates(state)
        .find((c) => c.step.id === other.id)
        ?.opens.keys() ?? []),
    ];
    const answered: Known = { facts: { [behind.id]: behind.values[0] ?? '' } };
    expect(opens({})).toContain('freezer-rear-panel');
    expect(opens(answered)).not.toContain('freezer-rear-panel');
    expect([...openedIn(knowledge, known(answered))]).toContain('freezer-rear-panel');
    expect([...openedIn(knowledge, known({ facts: { [behind.id]: null } }))]).toEqual([]);
  });
});
