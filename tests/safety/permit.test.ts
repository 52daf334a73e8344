import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { newCase, type CaseState } from '../../src/case/state.js';
import type { Role, Step } from '../../src/knowledge/facts.js';
import { NEEDED_FINDINGS as F } from '../../src/knowledge/named.js';
import { mayTell, permit, type Permit } from '../../src/safety/permit.js';
import { realKnowledge } from '../support/knowledge.js';

const knowledge = realKnowledge();
const AT = '2026-11-25T10:00:00Z';

type Skill = Step['needs']['skill'];
const anyStep = knowledge.findings.get(F.room) as Step;
/** A step that needs this and nothing else. */
const step = (needs: Partial<Step['needs']>, id = 'some.step'): Step => ({
  ...anyStep,
  id,
  needs: { open: [], power: 'any', cold: false, after: [], skill: 'look', ...needs },
});
const live = step({ skill: 'live', power: 'on' });
const behindPanel = step({ skill: 'panel', open: ['freezer-rear-panel'] });

interface Given {
  readonly facts?: Readonly<Record<string, string | null>>;
  readonly asked?: Readonly<Record<string, number>>;
  readonly hazards?: readonly string[];
}
/** A case in which these facts are known (null: not sure), these were asked, and these stop hazards stand. */
function given({ facts = {}, asked = {}, hazards = [] }: Given): CaseState {
  return {
    ...newCase(AT, 'homeowner'),
    asked,
    facts: Object.fromEntries(
      Object.entries(facts).map(([finding, value]) => [
        finding,
        {
          values: value === null ? [] : [value],
          denied: [],
          notSure: value === null,
          confidence: 1,
          from: 'answer',
          at: AT,
          by: 'u1',
        },
      ]),
    ),
    hazards: hazards.map((hazard) => ({ hazard, level: 'stop', at: AT, by: 'u1', cleared: false, silent: false })),
  };
}
const judged = (role: Role, what: Step, state: Given = {}): Permit => permit(knowledge, given(state), role, what);
const warnings = (p: Permit): readonly string[] => (p.kind === 'allow' ? p.warnings : [`${p.kind}!`]);

/** All that may come first is settled: unplugged, cold, may measure, may work live, no warranty. */
const settled = { [F.power]: 'off', [F.thawed]: 'no', [F.canMeasure]: 'yes', [F.liveWork]: 'yes', [F.warranty]: 'no' };
const but = (changes: Given['facts']): Given => ({ facts: { ...settled, ...changes } });
const without = (finding: string): Given => ({
  facts: Object.fromEntries(Object.entries(settled).filter(([id]) => id !== finding)),
});

describe('a homeowner', () => {
  test('may look, whatever the state', () => {
    expect(judged('homeowner', step({}))).toEqual({ kind: 'allow', warnings: [] });
  });

  test('never gets a live test, whatever they say of themselves', () => {
    expect(judged('homeowner', live, { facts: settled })).toEqual({ kind: 'refuse', because: 'needs-technician' });
    expect(judged('homeowner', live)).toEqual({ kind: 'refuse', because: 'needs-technician' });
  });

  test.each<Skill>(['panel', 'meter'])('with a %s step is first asked whether they can measure', (skill) => {
    expect(judged('homeowner', step({ skill }), without(F.canMeasure))).toMatchObject({
      kind: 'first',
      finding: F.canMeasure,
    });
  });

  test.each<Skill>(['panel', 'meter'])('who can not measure, or is not sure, gets no %s step', (skill) => {
    for (const answer of ['no', null])
      expect(judged('homeowner', step({ skill }), but({ [F.canMeasure]: answer }))).toEqual({
        kind: 'refuse',
        because: 'needs-technician',
      });
  });

  test('is asked twice at the most; without an answer there is no such step', () => {
    const asked = { ...without(F.canMeasure), asked: { [F.canMeasure]: 2 } };
    expect(judged('homeowner', step({ skill: 'meter' }), asked)).toEqual({
      kind: 'refuse',
      because: 'needs-technician',
    });
  });

  test('opens nothing that is under warranty or rented', () => {
    expect(judged('homeowner', behindPanel, but({ [F.warranty]: 'yes' }))).toEqual({
      kind: 'refuse',
      because: 'warranty',
    });
  });

  test('who can measure, with the unit unplugged, cold and out of warranty, may', () => {
    expect(judged('homeowner', step({ skill: 'meter', power: 'off', cold: true }), { facts: settled })).toEqual({
      kind: 'allow',
      warnings: [],
    });
  });

  test('opens nothing while the power stays on', () => {
    const on = { ...but({ [F.power]: 'on' }), asked: { [F.power]: 2 } };
    expect(judged('homeowner', step({ skill: 'meter', power: 'off' }), on)).toEqual({
      kind: 'refuse',
      because: 'needs-technician',
    });
  });
});

describe('a technician', () => {
  test.each<Role>(['technician', 'senior'])('(%s) before a live test is asked whether they may', (role) => {
    expect(judged(role, live, without(F.liveWork))).toMatchObject({ kind: 'first', finding: F.liveWork });
  });

  test.each<Role>(['technician', 'senior'])('(%s) who may not, or is not sure, gets no live test', (role) => {
    for (const answer of ['no', null])
      expect(judged(role, live, but({ [F.liveWork]: answer, [F.power]: 'on' }))).toEqual({
        kind: 'refuse',
        because: 'no-live-work',
      });
    expect(judged(role, live, { ...without(F.liveWork), asked: { [F.liveWork]: 2 } })).toEqual({
      kind: 'refuse',
      because: 'no-live-work',
    });
  });

  test('who may, gets it with the words that go with live work', () => {
    expect(warnings(judged('technician', live, but({ [F.power]: 'on' })))).toEqual(['live-work']);
    expect(warnings(judged('technician', live, { facts: settled }))).toContain('power-on-again');
    expect(warnings(judged('technician', { ...live, id: 'control.forced-defrost' }, but({ [F.power]: 'on' })))).toEqual(
      ['live-work', 'heater-hot'],
    );
  });

  test('is not asked whether they can measure', () => {
    expect(judged('technician', step({ skill: 'meter' }), without(F.canMeasure)).kind).toBe('allow');
  });

  test('is reminded of a warranty, and may go on', () => {
    expect(warnings(judged('technician', behindPanel, but({ [F.warranty]: 'yes' })))).toEqual([
      'warranty',
      'sharp-fins',
    ]);
  });

  test('is told to unplug where the power can not be settled', () => {
    const on = { ...but({ [F.power]: 'on' }), asked: { [F.power]: 2 } };
    expect(warnings(judged('technician', step({ skill: 'touch', power: 'off' }), on))).toEqual(['unplug-first']);
  });
});

describe('anyone', () => {
  test('is asked about a warranty before a cover comes off', () => {
    for (const role of ['homeowner', 'technician'] as const)
      expect(judged(role, behindPanel, without(F.warranty))).toMatchObject({ kind: 'first', finding: F.warranty });
    expect(judged('technician', step({ skill: 'touch' }), without(F.warranty)).kind).toBe('allow');
  });

  test('who is not sure about the warranty may go on', () => {
    expect(judged('homeowner', behindPanel, but({ [F.warranty]: null })).kind).toBe('allow');
  });

  test('is asked whether it was thawed before a test that needs the cold', () => {
    expect(judged('homeowner', step({ cold: true }), without(F.thawed))).toMatchObject({
      kind: 'first',
      finding: F.thawed,
    });
  });

  test('gets no cold test within a day of a thaw; later, and unsure, with a word of warning', () => {
    expect(judged('technician', step({ cold: true }), but({ [F.thawed]: 'under-a-day' }))).toEqual({
      kind: 'refuse',
      because: 'not-cold',
    });
    expect(judged('technician', step({ cold: true }), but({ [F.thawed]: 'days-ago' }))).toEqual({
      kind: 'allow',
      warnings: [],
    });
    expect(warnings(judged('technician', step({ cold: true }), but({ [F.thawed]: null })))).toEqual(['cold-unsure']);
  });

  test.each<Skill>(['touch', 'panel', 'meter'])('settles the power before a %s step that needs it off', (skill) => {
    const unplugged = step({ skill, power: 'off' });
    expect(judged('homeowner', unplugged, without(F.power))).toMatchObject({ kind: 'first', finding: F.power });
    expect(judged('homeowner', unplugged, but({ [F.power]: 'on' }))).toMatchObject({ kind: 'first', finding: F.power });
    expect(warnings(judged('technician', unplugged, without(F.power)))).toContain('unplug-first');
    expect(warnings(judged('technician', unplugged, { facts: settled }))).not.toContain('unplug-first');
    expect(judged('homeowner', step({ power: 'off' }), without(F.power)).kind).toBe('allow');
  });

  test('who is a homeowner is asked about the power until it is off, twice at most, and never after "not sure"', () => {
    const touch = step({ skill: 'touch', power: 'off' });
    const asked = (power: string | null | undefined, times: number): Permit =>
      judged('homeowner', touch, {
        ...(power === undefined ? without(F.power) : but({ [F.power]: power })),
        asked: { [F.power]: times },
      });
    for (const [power, times] of [
      [undefined, 0],
      [undefined, 1],
      ['on', 0],
      ['on', 1],
      [null, 0],
    ] as const)
      expect(asked(power, times), `${power} ${times}`).toMatchObject({ kind: 'first', finding: F.power });
    for (const [power, times] of [
      [undefined, 2],
      ['on', 2],
      [null, 1],
    ] as const)
      expect(asked(power, times), `${power} ${times}`).toEqual({ kind: 'allow', warnings: ['unplug-first'] });
  });

  test('is warned of a hot heater only where the power stays on', () => {
    const forced = { ...step({ skill: 'touch' }), id: 'control.forced-defrost' };
    expect(warnings(judged('technician', forced, { facts: settled }))).toEqual([]);
  });

  test('is told that the power comes on again for a step that needs it', () => {
    expect(warnings(judged('homeowner', step({ power: 'on' }), but({ [F.power]: 'off' })))).toEqual(['power-on-again']);
  });

  test.each([['r-600a'], ['r-290']])('is warned before opening a unit with %s', (refrigerant) => {
    expect(warnings(judged('technician', behindPanel, but({ [F.refrigerant]: refrigerant })))).toEqual([
      'flammable',
      'sharp-fins',
    ]);
  });

  test('is warned of what stands behind the cover', () => {
    expect(warnings(judged('technician', step({ skill: 'meter', open: ['rear-cover'] }), { facts: settled }))).toEqual([
      'capacitor',
    ]);
  });
});

describe('while a stop hazard stands', () => {
  const stops = [...knowledge.hazards.values()].filter((h) => h.level === 'stop');
  const power = knowledge.findings.get(F.power) as Step;

  test.each(stops)(
    '$id: nothing is allowed but the question of the power, and for the quiet ones not even that',
    ({ id, askPower }) => {
      for (const role of ['homeowner', 'technician', 'senior'] as const) {
        for (const what of knowledge.steps.values())
          if (what.id !== F.power)
            expect(judged(role, what, { facts: settled, hazards: [id] })).toEqual({
              kind: 'refuse',
              because: 'hazard',
            });
        expect(judged(role, power, { hazards: [id] }).kind).toBe(askPower ? 'allow' : 'refuse');
      }
    },
  );

  // Quiet: where a person would have to walk through it, or touch a switch, to answer.
  test.each(['gas-smell', 'ammonia-smell', 'refrigerant-leak', 'injury', 'water-near-live-parts'])(
    '%s is a quiet one',
    (id) => {
      expect(judged('homeowner', power, { hazards: [id] })).toEqual({ kind: 'refuse', because: 'hazard' });
    },
  );

  test('the question of the power comes without a word beside it', () => {
    expect(judged('homeowner', power, { hazards: ['electric-shock'] })).toEqual({ kind: 'allow', warnings: [] });
  });

  test('what tells to do something at the unit is kept back; everything else may be told', () => {
    const topics = [...knowledge.topics.values()];
    const [handsOn, other] = [topics.find((t) => t.handsOn), topics.find((t) => !t.handsOn)];
    if (!handsOn || !other) throw new Error('there are topics of both kinds');
    const told = (topic: string | null, hazards: readonly string[]): boolean =>
      mayTell(knowledge, given({ hazards }), topic);
    expect(told(handsOn.id, ['gas-smell'])).toBe(false);
    expect(told(handsOn.id, [])).toBe(true);
    for (const topic of [other.id, null, 'no-topic']) {
      expect(told(topic, ['gas-smell'])).toBe(true);
      expect(told(topic, [])).toBe(true);
    }
  });

  test('one quiet hazard among several silences the question', () => {
    expect(judged('homeowner', power, { hazards: ['electric-shock', 'gas-smell'] }).kind).toBe('refuse');
  });

  test('a hazard that was cleared, or a caution, forbids nothing', () => {
    const state = given({ facts: settled });
    const standing = { hazard: 'gas-smell', at: AT, by: 'u1', silent: false };
    for (const h of [
      { ...standing, level: 'stop' as const, cleared: true },
      { ...standing, level: 'caution' as const, cleared: false },
    ])
      expect(permit(knowledge, { ...state, hazards: [h] }, 'homeowner', step({})).kind).toBe('allow');
  });
});

describe('in any state', () => {
  const answers = fc
    .record(
      Object.fromEntries(
        [F.power, F.thawed, F.canMeasure, F.liveWork, F.warranty, F.refrigerant].map((id) => [
          id,
          fc.option(fc.constantFrom(...(knowledge.findings.get(id)?.values ?? []), null), { nil: undefined }),
        ]),
      ),
    )
    .map(
      (facts) =>
        Object.fromEntries(Object.entries(facts).filter(([, v]) => v !== undefined)) as Record<string, string | null>,
    );
  const asked = fc.dictionary(fc.constantFrom(F.power, F.thawed, F.canMeasure, F.liveWork, F.warranty), fc.nat(3), {
    noNullPrototype: true,
  });
  const steps = fc.constantFrom(...knowledge.steps.values());
  const role = fc.constantFrom<Role>('homeowner', 'technician', 'senior');

  test('no live step is allowed to a homeowner, and to others only when they said that they may', () => {
    fc.assert(
      fc.property(answers, asked, steps, role, (facts, times, what, who) => {
        const p = judged(who, what, { facts, asked: times });
        if (p.kind !== 'allow') return;
        if (what.needs.skill === 'live') {
          expect(who).not.toBe('homeowner');
          expect(facts[F.liveWork]).toBe('yes');
        }
        if (who === 'homeowner' && ['panel', 'meter'].includes(what.needs.skill)) {
          expect(facts[F.canMeasure]).toBe('yes');
          expect(facts[F.warranty]).not.toBe('yes');
          if (what.needs.power === 'off') expect(facts[F.power]).toBe('off');
        }
        if (what.needs.cold) expect(facts[F.thawed]).not.toBe('under-a-day');
      }),
      { numRuns: 1000 },
    );
  });

  test('what comes first is a question that leads somewhere: answered, it does not come first again', () => {
    fc.assert(
      fc.property(answers, steps, role, (facts, what, who) => {
        let state: Given = { facts, asked: {} };
        for (let n = 0; n < 8; n += 1) {
          const p = judged(who, what, state);
          if (p.kind !== 'first') return;
          state = {
            facts: { ...state.facts, [p.finding]: null },
            asked: { ...state.asked, [p.finding]: (state.asked?.[p.finding] ?? 0) + 1 },
          };
        }
        throw new Error(`${what.id} never comes to an end`);
      }),
      { numRuns: 500 },
    );
  });
});
