// The planner against vectors made for it and reckoned twice elsewhere, by brute force over all orders and by dynamic
// programming (no published source: the papers' worked examples were not at hand).

import { describe, expect, test } from 'vitest';
import { optimum } from '../../src/study/optimum.js';
import { expectedCost, type Problem } from '../../src/study/problem.js';
import {
  cheapestFirst,
  inOrder,
  mostProbableFirst,
  myopic,
  ours,
  withoutQuestions,
} from '../../src/study/small-policies.js';
import { small } from './small.js';

const cost = (problem: Problem, order: readonly number[]): number =>
  expectedCost(
    problem,
    inOrder(
      order.map((n) => n - 1),
      problem.endings.length - 1,
    ),
  );
const best = (problem: Problem): number => optimum(problem).cost;
const our = (problem: Problem): number => expectedCost(problem, ours());

test('T1: three repairs, by chance for their minutes', () => {
  const problem = small({ p: [0.5, 0.3, 0.2], repairs: [{ cost: 10 }, { cost: 2 }, { cost: 5 }] });
  for (const ecr of [our(problem), best(problem), expectedCost(problem, withoutQuestions), cost(problem, [2, 1, 3])])
    expect(ecr).toBeCloseTo(10, 12);
  expect(expectedCost(problem, mostProbableFirst)).toBeCloseTo(12, 12);
  expect(expectedCost(problem, cheapestFirst)).toBeCloseTo(10.5, 12);
  expect(cost(problem, [3, 1, 2])).toBeCloseTo(13.6, 12);
});

test('T2: a cost to look and one to mend', () => {
  const [look, mend] = [
    [8, 3, 1, 6],
    [20, 5, 40, 10],
  ];
  const problem = small({ p: [0.4, 0.3, 0.2, 0.1], repairs: look.map((c, i) => ({ cost: c, extra: mend[i] ?? 0 })) });
  for (const ecr of [our(problem), best(problem), expectedCost(problem, withoutQuestions), cost(problem, [3, 2, 1, 4])])
    expect(ecr).toBeCloseTo(26.5, 12);
  expect(expectedCost(problem, mostProbableFirst)).toBeCloseTo(29.2, 12);
  expect(expectedCost(problem, cheapestFirst)).toBeCloseTo(28.1, 12);
  expect(cost(problem, [4, 1, 2, 3])).toBeCloseTo(33.4, 12);
});

test.each([
  [5, 5, []],
  [12, 11, [2]],
  [20, 14.5, [2, 1]],
  [30, 16.5, [2, 1, 3]],
  [60, 22.5, [2, 1, 3]],
  [100, 30.5, [2, 1, 3]],
])('T3: a service call of %d', (service, ecr, order) => {
  const problem = small({ p: [0.35, 0.25, 0.2, 0.2], repairs: [{ cost: 6 }, { cost: 2 }, { cost: 10 }], service });
  for (const got of [our(problem), best(problem), cost(problem, order), expectedCost(problem, withoutQuestions)])
    expect(got).toBeCloseTo(ecr, 12);
});

test('T4: repairs that share faults, where the greedy order fails', () => {
  const problem = small({
    p: [0.24, 0.2, 0.31, 0.25],
    repairs: [
      { cost: 1, fixes: [2, 3] },
      { cost: 1, fixes: [1, 3] },
      { cost: 1, fixes: [0, 2] },
    ],
  });
  expect(expectedCost(problem, withoutQuestions)).toBeCloseTo(1.64, 12);
  expect(cost(problem, [1, 3, 2])).toBeCloseTo(1.64, 12);
  for (const got of [our(problem), best(problem), cost(problem, [3, 2])]) expect(got).toBeCloseTo(1.45, 12);
});

test('T5: a repair that costs more than the service', () => {
  const problem = small({ p: [0.3, 0.3, 0.4], repairs: [{ cost: 1, extra: 60 }, { cost: 2 }], service: 50 });
  for (const got of [our(problem), best(problem), cost(problem, [2])]) expect(got).toBeCloseTo(37, 12);
  expect(cost(problem, [1, 2])).toBeCloseTo(40.4, 12);
  expect(cost(problem, [2, 1])).toBeCloseTo(40.7, 12);
  expect(cost(problem, [])).toBeCloseTo(50, 12);
  expect(cost(problem, [1])).toBeCloseTo(54, 12);
});

describe('T6: whether a question is worth it', () => {
  const asking = (c: number): Problem =>
    small({ p: [0.5, 0.5], repairs: [{ cost: 10 }, { cost: 10 }], questions: [{ cost: c, yes: [0.9, 0.2] }] });
  test.each([
    [1, 12.5],
    [3, 14.5],
    [3.49, 14.99],
    [3.51, 15],
    [4, 15],
  ])('at %d', (c, ecr) => {
    for (const got of [our(asking(c)), best(asking(c)), expectedCost(asking(c), myopic)])
      expect(got).toBeCloseTo(ecr, 12);
  });
  test('asked though it is too dear it costs 15.5', () => {
    const problem = asking(4);
    const askFirst = expectedCost(problem, (p, s) =>
      s.done.includes(2) ? withoutQuestions(p, s) : { kind: 'move', move: 2 },
    );
    expect(askFirst).toBeCloseTo(15.5, 12);
    const after = (chance: readonly number[]): number =>
      expectedCost(small({ p: chance, repairs: [{ cost: 10 }, { cost: 10 }] }), withoutQuestions);
    expect(after([0.45 / 0.55, 0.1 / 0.55])).toBeCloseTo(11.818182, 6);
    expect(after([0.05 / 0.45, 0.4 / 0.45])).toBeCloseTo(11.111111, 6);
  });
});

test('T7: two questions that tell nothing alone', () => {
  const problem = small({
    p: [0.25, 0.25, 0.25, 0.25],
    repairs: [
      { cost: 10, fixes: [0, 3] },
      { cost: 10, fixes: [1, 2] },
    ],
    questions: [
      { cost: 1, yes: [0, 0, 1, 1] },
      { cost: 1, yes: [0, 1, 0, 1] },
    ],
  });
  expect(expectedCost(problem, withoutQuestions)).toBeCloseTo(15, 12);
  expect(expectedCost(problem, myopic)).toBeCloseTo(15, 12);
  const one = expectedCost(problem, (p, s) =>
    s.done.length === 0 ? { kind: 'move', move: 2 } : withoutQuestions(p, s),
  );
  expect(one).toBeCloseTo(16, 12);
  for (const got of [our(problem), best(problem)]) expect(got).toBeCloseTo(12, 12);
});

test('T8: a whole plan', () => {
  const problem = small({
    p: [0.4, 0.3, 0.2, 0.1],
    repairs: [{ cost: 6 }, { cost: 4 }, { cost: 9 }],
    questions: [
      { cost: 1, yes: [0.9, 0.2, 0.2, 0.5] },
      { cost: 1.5, yes: [0.1, 0.85, 0.15, 0.5] },
    ],
    service: 30,
  });
  expect(expectedCost(problem, withoutQuestions)).toBeCloseTo(13.9, 12);
  expect(cost(problem, [2, 1, 3])).toBeCloseTo(13.9, 12);
  const asked = (first: readonly number[]): number =>
    expectedCost(problem, (p, s) => {
      const next = first[s.done.length];
      return next === undefined ? withoutQuestions(p, s) : { kind: 'move', move: next };
    });
  expect(asked([3])).toBeCloseTo(13.22, 12);
  expect(asked([4])).toBeCloseTo(13.955, 12);
  expect(asked([3, 4])).toBeCloseTo(14.13, 12);
  expect(expectedCost(problem, mostProbableFirst)).toBeCloseTo(14.1, 12);
  for (const got of [our(problem), best(problem), expectedCost(problem, myopic)]) expect(got).toBeCloseTo(13.22, 12);
});
