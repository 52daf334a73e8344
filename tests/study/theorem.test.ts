// "By p/C" is the best order of repairs where the theorem's conditions hold: one fault, a result seen at once, constant
// costs, one repair a fault, nothing to ask (the rule C/p: Kalagnanam and Henrion 1990, arXiv 1304.2362). Checked by
// brute force over all orders, with the expected cost written down a second time, as the formula has it.

import { describe, expect, test } from 'vitest';
import { numbersFrom } from '../../src/diagnosis/seeded.js';
import { repairPlans } from '../../src/diagnosis/repair-order.js';
import { optimum } from '../../src/study/optimum.js';
import { expectedCost, type Problem } from '../../src/study/problem.js';
import { ours, withoutQuestions } from '../../src/study/small-policies.js';
import { repair } from './small.js';

const MODELS = 400;

interface Drawn {
  readonly p: readonly number[];
  readonly cost: readonly number[];
  readonly works: readonly number[];
}

function drawn(random: () => number, imperfect: boolean): Drawn {
  const raw = Array.from({ length: 6 }, () => random());
  const total = raw.reduce((s, r) => s + r, 0);
  return {
    p: raw.map((r) => r / total),
    cost: Array.from({ length: 5 }, () => 1 + 9 * random()),
    works: Array.from({ length: 5 }, () => (imperfect ? 0.3 + 0.7 * random() : 1)),
  };
}

const problemOf = ({ p, cost, works }: Drawn, service: number | null): Problem => ({
  prior: Float64Array.from(p),
  moves: cost.map((c, i) =>
    repair(
      c,
      p.map((_, h) => (h === i ? works[i]! : 0)),
    ),
  ),
  endings: service === null ? [] : [{ loss: Float64Array.from(p, () => service) }],
});

/** SUM_i (1 - SUM_{j<i} p_j r_j) C_i + what is left times the service. */
function ecr({ p, cost, works }: Drawn, order: readonly number[], service: number): number {
  let left = 1;
  let sum = 0;
  for (const i of order) {
    sum += left * cost[i]!;
    left -= p[i]! * works[i]!;
  }
  return sum + left * service;
}

const orders = (items: readonly number[]): number[][] =>
  items.length === 0 ? [[]] : items.flatMap((i) => orders(items.filter((j) => j !== i)).map((rest) => [i, ...rest]));
const subsets = (items: readonly number[]): number[][] =>
  items.reduce<number[][]>((all, i) => [...all, ...all.map((s) => [...s, i])], [[]]);

const ALL = [0, 1, 2, 3, 4];
const everyOrder = orders(ALL);
const everyPart = subsets(ALL).flatMap(orders);

describe.each([
  ['sure repairs', false],
  ['repairs that work sometimes', true],
])('%s', (_, imperfect) => {
  test('all tried: no order costs less than by p/C', () => {
    const random = numbersFrom(5);
    for (let n = 0; n < MODELS; n += 1) {
      const model = drawn(random, imperfect);
      const least = Math.min(...everyOrder.map((o) => ecr(model, o, 0)));
      expect(repairPlans(problemOf(model, null).moves, [])(Float64Array.from(model.p), 1).cost).toBeCloseTo(least, 10);
      if (n < 40) expect(expectedCost(problemOf(model, null), withoutQuestions)).toBeCloseTo(least, 10);
    }
  });

  test('with a service: no part in no order costs less than the first of them by p/C', () => {
    const random = numbersFrom(6);
    for (let n = 0; n < MODELS; n += 1) {
      const model = drawn(random, imperfect);
      const service = 40 * random();
      const least = Math.min(...everyPart.map((o) => ecr(model, o, service)));
      const problem = problemOf(model, service);
      expect(repairPlans(problem.moves, problem.endings)(problem.prior, 1).cost).toBeCloseTo(least, 10);
      if (n < 40) {
        expect(optimum(problem).cost).toBeCloseTo(least, 10);
        expect(expectedCost(problem, ours())).toBeCloseTo(least, 10);
      }
    }
  });
});
