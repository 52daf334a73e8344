// The trade's own model: pieces of it against their optimum, and the look-ahead that is capped against the one that is not.

import { describe, expect, test } from 'vitest';
import { cappedRatio } from '../../src/study/capped.js';
import { drawsOf } from '../../src/study/chance.js';
import { policyRatios, summary } from '../../src/study/ratios.js';
import { myopic, ours } from '../../src/study/small-policies.js';
import { subModel } from '../../src/study/sub-models.js';
import { realKnowledge } from '../support/knowledge.js';

const knowledge = realKnowledge();
const problems = Array.from({ length: 30 }, (_, i) => subModel(knowledge, drawsOf(2, i)));

describe('pieces of the model', () => {
  test('have checks behind one panel, checks that a heated coil spoils, and checks that wait', () => {
    for (const { prior, moves } of problems) {
      expect(prior.reduce((s, p) => s + p, 0)).toBeCloseTo(1, 12);
      expect(moves.filter((m) => m.opens.has('freezer-rear-panel')).length).toBeGreaterThanOrEqual(2);
      for (const { outcomes } of moves)
        prior.forEach((_, h) => expect(outcomes.reduce((s, o) => s + o.chance[h]!, 0)).toBeCloseTo(1, 9));
    }
    expect(problems.some((p) => p.moves.some((m) => m.shuts.length > 0))).toBe(true);
  });

  test('cost little more than the best possible', () => {
    const ratios = summary(problems.map((p) => policyRatios(p, { ours: ours(), myopic })));
    expect(ratios['ours']!.mean).toBeGreaterThanOrEqual(1 - 1e-9);
    expect(ratios['ours']!.mean).toBeLessThanOrEqual(1.02);
    expect(ratios['ours']!.p95).toBeLessThanOrEqual(1.06);
    expect(ratios['ours']!.worst).toBeLessThanOrEqual(1.15);
    expect(ratios['myopic']!.mean).toBeGreaterThan(ratios['ours']!.mean);
  });
});

test('the capped look-ahead takes a step that costs hardly more than the best of all', () => {
  const ratios = Array.from({ length: 8 }, (_, i) => cappedRatio(knowledge, drawsOf(4, i)));
  for (const ratio of ratios) expect(ratio).toBeGreaterThanOrEqual(1 - 1e-9);
  expect(ratios.reduce((s, r) => s + r, 0) / ratios.length).toBeLessThanOrEqual(1.005);
});
