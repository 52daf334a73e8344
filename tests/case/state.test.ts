import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { caseEvent, type CaseEvent, type Measurement } from '../../src/case/events.js';
import { isEscalated, standingStops, valueOf } from '../../src/case/look.js';
import { fold, newCase, type CaseState } from '../../src/case/state.js';
import { anyEvent } from './any-event.js';

const AT = '2026-11-25T10:00:00Z';
const by = 'u1';

type Of<T extends CaseEvent['type']> = Extract<CaseEvent, { type: T }>;
const event = <T extends CaseEvent['type']>(type: T, rest: Omit<Of<T>, 'type' | 'at' | 'by'>): CaseEvent =>
  ({ type, at: AT, by, ...rest }) as unknown as CaseEvent;

const found = (finding: string, values: string[], more: Partial<Of<'found'>> = {}): CaseEvent =>
  event('found', {
    finding,
    values,
    denied: [],
    notSure: false,
    confidence: 1,
    from: 'answer',
    replace: true,
    ...more,
  });
const measured = (
  value: number | 'open',
  atC: number | null,
  quantity: Measurement['quantity'] = 'resistance',
): CaseEvent =>
  event('measured', {
    measurement: {
      part: 'defrost-heater',
      quantity,
      value,
      unit: 'ohm',
      atC,
      atAssumed: false,
      settledMinutes: null,
      sheet: null,
      rating: null,
      curve: null,
    },
  });
const asked = (finding: string | null, reading: string | null = null): CaseEvent =>
  event('asked', {
    question: { kind: 'choice', finding, reading, about: null, value: null, was: null, notBefore: null },
  });

const given = (...events: CaseEvent[]): CaseState => fold(newCase(AT, 'homeowner'), events);
const numbers = (state: CaseState): unknown[] => state.readings.map((r) => r.value);

test('a new case knows nothing', () => {
  expect(newCase(AT, 'technician')).toMatchObject({
    version: 0,
    role: 'technician',
    facts: {},
    readings: [],
    hazards: [],
    advice: null,
    escalation: null,
    closed: false,
  });
});

test('each event counts once, and the last one says when something happened last', () => {
  const later = '2026-11-26T08:00:00Z';
  const state = given(event('opened', { role: 'homeowner' }), { ...asked('frost.kind'), at: later });
  expect(state).toMatchObject({ version: 2, openedAt: AT, lastAt: later });
});

describe('people', () => {
  test('given one who speaks, when another speaks in another role, then both are kept and the latter role counts', () => {
    const heard = (id: string, role: CaseState['role']): CaseEvent =>
      ({ ...event('heard', { role, kind: 'text' }), by: id }) as CaseEvent;
    const state = given(
      heard('u1', 'homeowner'),
      heard('u2', 'technician'),
      heard('u1', 'homeowner'),
      heard('u2', 'technician'),
    );
    expect(state.people).toEqual([
      { id: 'u1', role: 'homeowner' },
      { id: 'u2', role: 'technician' },
    ]);
    expect(state.role).toBe('technician');
  });
});

describe('facts', () => {
  test('given a value, when another replaces it, then only the new one stands', () => {
    expect(valueOf(given(found('frost.kind', ['soft-snow']), found('frost.kind', ['clear-ice'])), 'frost.kind')).toBe(
      'clear-ice',
    );
  });

  test('given a value, when one is added, then both stand, and neither is the one value', () => {
    const state = given(found('frost.kind', ['soft-snow']), found('frost.kind', ['clear-ice'], { replace: false }));
    expect(state.facts['frost.kind']?.values).toEqual(['soft-snow', 'clear-ice']);
    expect(valueOf(state, 'frost.kind')).toBeNull();
  });

  test('given two values, when one is denied, then the other stands and the denial is kept', () => {
    const state = given(
      found('frost.kind', ['soft-snow', 'clear-ice']),
      found('frost.kind', [], { denied: ['soft-snow'], replace: false, confidence: 0.9 }),
    );
    expect(state.facts['frost.kind']).toMatchObject({ values: ['clear-ice'], denied: ['soft-snow'], confidence: 0.9 });
  });

  test('given a denial, when the value is found after all, then it is denied no longer', () => {
    const state = given(
      found('frost.kind', [], { denied: ['soft-snow'] }),
      found('frost.kind', ['soft-snow'], { replace: false }),
    );
    expect(state.facts['frost.kind']).toMatchObject({ values: ['soft-snow'], denied: [] });
  });

  test('given "not sure", when a value is added, then it is sure', () => {
    const state = given(
      found('frost.kind', [], { notSure: true }),
      found('frost.kind', ['soft-snow'], { replace: false }),
    );
    expect(state.facts['frost.kind']).toMatchObject({ values: ['soft-snow'], notSure: false });
  });

  test('given a value, when "not sure" replaces it, then it is unknown', () => {
    const state = given(found('frost.kind', ['soft-snow']), found('frost.kind', [], { notSure: true }));
    expect(valueOf(state, 'frost.kind')).toBeNull();
    expect(state.facts['frost.kind']?.notSure).toBe(true);
  });

  test('given two values, when one is withdrawn, then the other stays; when all are, then nothing is known', () => {
    const two = found('frost.kind', ['soft-snow', 'clear-ice']);
    const withdrawn = (values: string[]): CaseEvent =>
      event('withdrawn', { finding: 'frost.kind', reading: null, values });
    expect(given(two, withdrawn(['clear-ice'])).facts['frost.kind']?.values).toEqual(['soft-snow']);
    expect(given(two, withdrawn([])).facts).toEqual({});
    expect(given(two, withdrawn([])).order).toEqual([]);
    expect(given(withdrawn([])).facts).toEqual({});
  });

  test('stand in the order in which they came last', () => {
    const state = given(found('a', ['x']), found('b', ['x']), measured(30, 20), found('a', ['y']));
    expect(state.order).toEqual(['b', 'defrost-heater.resistance', 'a']);
  });
});

describe('readings', () => {
  test('given one, when it is taken again at the same temperature, then the new one counts', () => {
    expect(numbers(given(measured(30, 20), measured(31, 22)))).toEqual([31]);
  });

  test('given one, when it is taken at a temperature 5 K or more away, then both count', () => {
    expect(numbers(given(measured(30, 20), measured(31, 25)))).toEqual([30, 31]);
    expect(numbers(given(measured(30, 20), measured(31, 24.9)))).toEqual([31]);
  });

  test('given one, when it is taken again without a temperature, then the new one counts', () => {
    expect(numbers(given(measured(30, 20), measured(31, null)))).toEqual([31]);
  });

  test('of another quantity stand beside it', () => {
    expect(numbers(given(measured(30, 20), measured('open', 20, 'continuity')))).toEqual([30, 'open']);
  });

  test('given one that could not be taken, when it is taken, then it can; when withdrawn, it is gone', () => {
    const cannot = event('unmeasurable', { reading: 'defrost-heater.resistance' });
    expect(given(cannot, cannot).unmeasurable).toEqual(['defrost-heater.resistance']);
    const state = given(cannot, measured(30, 20));
    expect(state.unmeasurable).toEqual([]);
    expect(
      numbers(fold(state, [event('withdrawn', { finding: null, reading: 'defrost-heater.resistance', values: [] })])),
    ).toEqual([]);
  });
});

describe('questions', () => {
  test('each time a step is asked is counted; a question about the talk is not', () => {
    const state = given(asked('frost.kind'), asked('frost.kind'), asked(null, 'room.temperature'), asked(null));
    expect(state.asked).toEqual({ 'frost.kind': 2, 'room.temperature': 1 });
    expect(state.question?.reading).toBeNull();
  });

  test('given a step asked twice, when its fact is withdrawn, then it may be asked again', () => {
    const state = given(
      asked('frost.kind'),
      found('frost.kind', ['soft-snow']),
      event('withdrawn', { finding: 'frost.kind', reading: null, values: [] }),
    );
    expect(state.asked['frost.kind'] ?? 0).toBe(0);
  });
});

describe('hazards', () => {
  const raised = (hazard: string, level: 'stop' | 'caution' = 'stop'): CaseEvent =>
    event('hazard-raised', { hazard, level, silent: false });
  const cleared = (hazard: string): CaseEvent => event('hazard-cleared', { hazard, how: 'technician' });

  test('given one, when it is raised again, then it stands once', () => {
    expect(standingStops(given(raised('gas-smell'), raised('gas-smell')))).toHaveLength(1);
  });

  test('given two, when one is cleared, then the other stands', () => {
    expect(
      standingStops(given(raised('gas-smell'), raised('injury'), cleared('gas-smell'))).map((h) => h.hazard),
    ).toEqual(['injury']);
  });

  test('given one that was cleared, when it is raised again, then it stands again, and the old one is still told of', () => {
    const state = given(raised('gas-smell'), cleared('gas-smell'), raised('gas-smell'));
    expect(standingStops(state)).toHaveLength(1);
    expect(state.hazards).toHaveLength(2);
  });

  test('a caution is no stop', () => {
    expect(standingStops(given(raised('tip-over', 'caution')))).toEqual([]);
  });
});

describe('advice and hand-over', () => {
  const advised = event('advised', { remedy: 'clean-gasket', fault: 'gasket-dirty', words: 'homeowner' });
  const escalated = event('escalated', { id: 'e1', kind: 'visit', urgency: 'routine' });

  test('given advice, when the repair failed, then it is dropped and remembered', () => {
    const state = given(advised, event('repair-failed', { remedy: 'clean-gasket', words: 'homeowner', better: false }));
    expect(state).toMatchObject({
      advice: null,
      failed: [{ remedy: 'clean-gasket', words: 'homeowner', better: false }],
    });
  });

  test('given advice, when a closed case is opened again, then it stands no longer', () => {
    expect(given(advised, event('closed', { why: 'fixed' })).closed).toBe(true);
    expect(given(advised, event('closed', { why: 'fixed' }), event('reopened', {}))).toMatchObject({
      closed: false,
      advice: null,
    });
  });

  test('given a hand-over, when it becomes graver, then it is the same one', () => {
    const state = given(escalated, event('escalation-raised', { kind: 'hazard', urgency: 'now' }));
    expect(state.escalation).toMatchObject({
      id: 'e1',
      kind: 'hazard',
      urgency: 'now',
      state: 'waiting',
      createdAt: AT,
    });
    expect(isEscalated(state)).toBe(true);
  });

  test('given a hand-over, when it ends, then it is closed; without one nothing happens', () => {
    const ended = event('escalation-ended', { how: 'closed' });
    expect(isEscalated(given(escalated, ended))).toBe(false);
    expect(given(ended, event('escalation-raised', { kind: 'hazard', urgency: 'now' })).escalation).toBeNull();
  });
});

describe('any events', () => {
  const anyEvents = fc.array(anyEvent, { maxLength: 60, size: 'max' });

  test('of every type are made here', () => {
    const types = new Set(fc.sample(anyEvent, 2000).map((e) => e.type));
    expect([...types].sort()).toEqual(caseEvent.options.map((o) => o.shape.type.value).sort());
  });

  test('are valid, fold without an error, and leave what was there as it was', () => {
    fc.assert(
      fc.property(anyEvents, (events) => {
        for (const e of events) expect(caseEvent.safeParse(e).success).toBe(true);
        const before = Object.freeze(newCase(AT, 'homeowner'));
        const state = fold(before, events);
        expect(before).toEqual(newCase(AT, 'homeowner'));
        expect(state.version).toBe(events.length);
        expect(new Set(state.order).size).toBe(state.order.length);
        for (const fact of Object.values(state.facts))
          for (const v of fact.values) expect(fact.denied).not.toContain(v);
      }),
      { numRuns: 300 },
    );
  });

  test('give the same state at once, one by one, and from what is stored as text', () => {
    fc.assert(
      fc.property(anyEvents, fc.nat(60), (events, cut) => {
        const whole = fold(newCase(AT, 'homeowner'), events);
        const half = fold(newCase(AT, 'homeowner'), events.slice(0, cut));
        expect(fold(half, events.slice(cut))).toEqual(whole);
        const stored = JSON.parse(JSON.stringify(half)) as CaseState;
        expect(fold(stored, JSON.parse(JSON.stringify(events.slice(cut))) as CaseEvent[])).toEqual(
          JSON.parse(JSON.stringify(whole)),
        );
      }),
      { numRuns: 200 },
    );
  });
});
