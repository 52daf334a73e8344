// What the real folder must cover, whoever edits it.

import { describe, expect, test } from 'vitest';
import { coverageOf } from '../../src/knowledge/coverage.js';
import { phraseProblems } from '../../src/understand/check-phrases.js';
import { realKnowledge } from '../support/knowledge.js';

const knowledge = realKnowledge();
const roles = ['homeowner', 'technician'] as const;

describe('every fault', () => {
  const covered = coverageOf(knowledge);

  test('is listed once', () => {
    expect(covered.map((c) => c.fault)).toEqual(knowledge.faultIds);
    expect(new Set(knowledge.faultIds).size).toBe(knowledge.faults.size);
  });

  test.each(covered.filter((c) => knowledge.faults.get(c.fault)?.concludable))(
    '$fault has two observations that favour it 3 to 1 or more',
    ({ favouredBy }) => {
      expect(favouredBy.length).toBeGreaterThanOrEqual(2);
    },
  );

  test('and its share: all shares together make a hundred calls', () => {
    const sum = [...knowledge.faults.values()].reduce((total, f) => total + f.share.value, 0);
    expect(sum).toBeCloseTo(100, 6);
  });

  test('costs at most as much to mend as handing over without knowing', () => {
    for (const words of roles)
      for (const fault of knowledge.faults.values())
        expect(knowledge.costs.remedy(fault.repair[words].remedy, words), `${fault.id} ${words}`).toBeLessThanOrEqual(
          knowledge.costs.handOver[words],
        );
  });

  test('of the sealed system is for a certified technician, whoever asks', () => {
    const licensed = [...knowledge.faults.values()].filter((f) => f.licensed);
    expect(licensed.length).toBeGreaterThan(0);
    for (const fault of licensed)
      for (const words of roles)
        expect(fault.repair[words], fault.id).toMatchObject({
          action: 'licensed-technician',
          who: 'certified-technician',
        });
  });

  test('a homeowner is never sent behind a cover: no self-repair of theirs needs a part', () => {
    for (const { id, repair } of knowledge.faults.values())
      if (repair.homeowner.action === 'self-repair') expect(repair.homeowner.parts, id).toEqual([]);
  });
});

describe('every step', () => {
  test.each(roles)('has its question, its reason and a label for each choice, for a %s', (words) => {
    for (const step of knowledge.steps.values()) {
      expect(step.ask[words].question, step.id).not.toBe('');
      expect(step.ask[words].why, step.id).not.toBe('');
    }
    for (const f of knowledge.findings.values()) {
      const labels = f.values.map((v) => f.choices[v]?.[words]);
      expect(labels.every(Boolean), f.id).toBe(true);
      expect(new Set(labels).size, f.id).toBe(f.values.length);
    }
  });

  test('of a homeowner is one question', () => {
    for (const step of knowledge.steps.values())
      expect(step.ask.homeowner.question.match(/\?/g)?.length ?? 0, step.id).toBeLessThanOrEqual(1);
  });

  test('is a likelihood in every row: between 0 and 1, and summing to 1 unless several values may hold', () => {
    for (const step of knowledge.steps.values())
      for (const row of step.table ? [step.table.base, ...step.table.rows] : []) {
        expect(Math.min(...row), step.id).toBeGreaterThan(0);
        expect(Math.max(...row), step.id).toBeLessThanOrEqual(1);
        if (!step.many)
          expect(
            row.reduce((s, p) => s + p, 0),
            step.id,
          ).toBeCloseTo(1, 12);
      }
  });

  test('that is a live test says that the power is on for it', () => {
    for (const step of knowledge.steps.values())
      if (step.needs.skill === 'live') expect(step.needs.power, step.id).toBe('on');
  });
});

describe('every hazard', () => {
  const stops = [...knowledge.hazards.values()].filter((h) => h.level === 'stop');

  test.each(stops)('$id, a stop, has immediate steps, what not to do, and ten examples', (hazard) => {
    for (const words of roles) {
      expect(hazard.now[words].length).toBeGreaterThan(0);
      expect(hazard.not[words].length).toBeGreaterThan(0);
    }
    expect(hazard.examples.length).toBeGreaterThanOrEqual(10);
    expect(hazard.harmless.length).toBeGreaterThan(0);
    expect(hazard.urgency).toBe('now');
  });

  test('says what to do at once, in both roles', () => {
    for (const h of knowledge.hazards.values())
      for (const words of roles) expect(h.now[words].length, h.id).toBeGreaterThan(0);
  });
});

test('a fact is a member of one group of witnesses at the most', () => {
  const seen = new Map<string, string>();
  const twice: string[] = [];
  for (const [group, members] of knowledge.witnesses)
    for (const m of members)
      for (const value of m.values ?? knowledge.steps.get(m.step)?.values ?? []) {
        const fact = `${m.step} ${value}`;
        if (seen.has(fact)) twice.push(`${fact}: ${seen.get(fact)}, ${group}`);
        seen.set(fact, group);
      }
  expect(twice).toEqual([]);
});

test('every phrase has an example, and every example is understood', () => {
  expect(phraseProblems(knowledge)).toEqual([]);
}, 60_000);
