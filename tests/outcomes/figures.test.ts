// 500 invented outcomes: each figure of the report counted again here, in another way, from the same outcomes.

import { describe, expect, test } from 'vitest';
import { figuresOf, type Figures } from '../../src/outcomes/figures.js';
import { inventedOutcomes } from '../../src/outcomes/invented.js';
import type { Outcome } from '../../src/outcomes/outcome.js';
import { realKnowledge } from '../support/knowledge.js';

const knowledge = realKnowledge();
const outcomes = inventedOutcomes(knowledge, 500, 1);
const figures = figuresOf(knowledge, outcomes);

const count = (holds: (o: Outcome) => boolean): number => {
  let n = 0;
  for (const o of outcomes) if (holds(o)) n += 1;
  return n;
};
const middle = (numbers: number[]): number => {
  const a = numbers.toSorted((x, y) => x - y);
  return ((a[Math.floor((a.length - 1) / 2)] ?? NaN) + (a[Math.ceil((a.length - 1) / 2)] ?? NaN)) / 2;
};
const average = (numbers: number[]): number => {
  let sum = 0;
  for (const n of numbers) sum += n;
  return sum / numbers.length;
};
/** 0 nobody, 1 a technician, 2 a certified one; read from the knowledge folder by other means than the report does. */
const levelNeeded = (o: Outcome): number | null => {
  const fault = [...knowledge.faults.values()].find((f) => f.id === o.cause && f.id !== 'something-else');
  if (!fault) return null;
  const action = fault.licensed ? 'licensed-technician' : fault.repair[o.words].action;
  return { 'self-repair': 0, monitor: 0, 'technician-visit': 1, 'licensed-technician': 2 }[action];
};
const levelSent = (o: Outcome): number | null => {
  if (!o.escalation) return 0;
  return { visit: 1, stuck: 1, 'sealed-system': 2, hazard: null, 'asked-for-person': null }[o.escalation.kind];
};
const judged = outcomes.filter((o) => levelNeeded(o) !== null && levelSent(o) !== null);

test('all of them are marked as invented, and so are their figures', () => {
  expect(outcomes).toHaveLength(500);
  expect(outcomes.every((o) => o.invented && o.id.startsWith('invented-'))).toBe(true);
  expect(figures.invented).toBe(true);
});

test('the same seed gives the same, another gives others', () => {
  expect(inventedOutcomes(knowledge, 500, 1)).toEqual(outcomes);
  expect(inventedOutcomes(knowledge, 500, 2)).not.toEqual(outcomes);
});

test('there is something of every kind to count', () => {
  expect(Object.keys(figures.escalations).sort()).toEqual([
    'asked-for-person',
    'hazard',
    'sealed-system',
    'stuck',
    'visit',
  ]);
  expect(Object.keys(figures.closedAs).sort()).toEqual(['desk', 'fixed', 'unanswered']);
  expect(figures.overEscalated.count).toBeGreaterThan(0);
  expect(figures.underEscalated.count).toBeGreaterThan(0);
  expect(figures.rightFirstTime.count).toBeLessThan(figures.rightFirstTime.of);
});

test('how they ended, and the causes', () => {
  expect(figures.cases).toBe(500);
  for (const how of ['desk', 'fixed', 'unanswered'] as const)
    expect(figures.closedAs[how]).toBe(count((o) => o.closedAs === how));
  const causes = [...knowledge.faultIds, 'not-found', 'not-told'];
  for (const cause of causes) expect(figures.causes[cause] ?? 0).toBe(count((o) => (o.cause ?? 'not-told') === cause));
  expect(Object.values(figures.causes).reduce((a, b) => a + b)).toBe(500);
});

test.each([
  ['layout', 'byLayout', 'unit.layout'],
  ['control', 'byControl', 'unit.defrost-control'],
] as const)('causes by %s', (key, group, finding) => {
  const values = [...(knowledge.findings.get(finding)?.values ?? []), 'not-told'];
  for (const value of values)
    for (const cause of [...knowledge.faultIds, 'not-found', 'not-told'])
      expect(figures[group][value]?.[cause] ?? 0).toBe(
        count((o) => (o[key] ?? 'not-told') === value && (o.cause ?? 'not-told') === cause),
      );
});

test('right first time', () => {
  const of = count((o) => o.concluded !== null && o.cause !== null && o.cause !== 'not-found');
  expect(figures.rightFirstTime).toEqual({ count: count((o) => o.concluded !== null && o.concluded === o.cause), of });
});

test('questions and days', () => {
  const days = outcomes.map((o) => (new Date(o.closedAt).getTime() - new Date(o.openedAt).getTime()) / 1000 / 86400);
  const questions = outcomes.map((o) => o.questions);
  expect(figures.questions.mean).toBeCloseTo(average(questions), 9);
  expect(figures.questions.median).toBe(middle(questions));
  expect(figures.days.mean).toBeCloseTo(average(days), 9);
  expect(figures.days.median).toBeCloseTo(middle(days), 9);
});

test('hand-overs by kind, and how many were right', () => {
  for (const [kind, { count: n, of, right }] of Object.entries(figures.escalations)) {
    expect(n).toBe(count((o) => o.escalation?.kind === kind));
    const of2 = kind === 'hazard' ? outcomes : judged;
    const own = of2.filter((o) => o.escalation?.kind === kind);
    expect(of).toBe(own.length);
    const isRight = (o: Outcome): boolean =>
      kind === 'hazard' ? o.hazards.some((h) => h.level === 'stop' && !h.takenBack) : levelSent(o) === levelNeeded(o);
    expect(right).toBe(own.filter(isRight).length);
  }
});

test('more sent than needed, and less', () => {
  const over = judged.filter((o) => (levelSent(o) ?? 0) > (levelNeeded(o) ?? 0)).length;
  const under = judged.filter((o) => (levelSent(o) ?? 0) < (levelNeeded(o) ?? 0)).length;
  expect(figures.overEscalated).toEqual({ count: over, of: judged.length });
  expect(figures.underEscalated).toEqual({ count: under, of: judged.length });
});

test('dangers', () => {
  for (const [hazard, { count: n, takenBack, level }] of Object.entries(figures.hazards)) {
    const own = outcomes.flatMap((o) => [...o.hazards]).filter((h) => h.hazard === hazard);
    expect([n, takenBack]).toEqual([own.length, own.filter((h) => h.takenBack).length]);
    expect(level).toBe(knowledge.hazards.get(hazard)?.level);
  }
});

test('Brier and log score, over every fault', () => {
  let squares = 0;
  let logs = 0;
  let n = 0;
  for (const { ranking, cause } of outcomes) {
    if (!ranking || cause === null || cause === 'not-found') continue;
    n += 1;
    for (const fault of knowledge.faultIds) {
      const p = ranking.find((r) => r.fault === fault)?.probability ?? 0;
      squares += fault === cause ? (1 - p) * (1 - p) : p * p;
      if (fault === cause) logs += Math.log(1 / p);
    }
  }
  expect(n).toBeGreaterThan(300);
  expect(figures.scores.of).toBe(n);
  expect(figures.scores.brier).toBeCloseTo(squares / n, 9);
  expect(figures.scores.log).toBeCloseTo(logs / n, 9);
});

describe('given no case at all', () => {
  test('then nothing is made up', () => {
    const none: Figures = figuresOf(knowledge, []);
    expect(none).toMatchObject({ cases: 0, invented: false, rightFirstTime: { count: 0, of: 0 } });
    expect(none.scores).toEqual({ of: 0, brier: null, log: null });
    expect(none.questions).toEqual({ mean: null, median: null });
  });
});
