// Worked by hand: chances told, how often, how often they came true.

import { describe, expect, test } from 'vitest';
import { corp, meanGap, murphy, reliability, type Told } from '../../src/diagnosis/calibration.js';
import { numbersFrom } from '../../src/diagnosis/seeded.js';
import { brier, logScore } from '../../src/diagnosis/scores.js';

const times = (chance: number, n: number, hits: number): Told[] =>
  Array.from({ length: n }, (_, i) => ({ chance, came: i < hits }));
const told = [...times(0.1, 10, 1), ...times(0.3, 10, 4), ...times(0.7, 20, 13), ...times(0.9, 10, 9)];

test('Brier and log score of (.7, .2, .1), by what came true', () => {
  const ranking = [0.7, 0.2, 0.1].map((probability, i) => ({ fault: `${i + 1}`, probability }));
  expect(brier(ranking, '1')).toBeCloseTo(0.14, 12);
  expect(logScore(ranking, '1')).toBeCloseTo(0.356675, 6);
  expect(brier(ranking, '3')).toBeCloseTo(1.34, 12);
  expect(logScore(ranking, '3')).toBeCloseTo(Math.LN10, 6);
});

describe('the split of the Brier score (Murphy 1973, Journal of Applied Meteorology 12)', () => {
  test('.178 = .003 - .0734 + .2484, mean gap .04', () => {
    const split = murphy(told);
    expect(split?.score).toBeCloseTo(0.178, 12);
    expect(split?.off).toBeCloseTo(0.003, 12);
    expect(split?.apart).toBeCloseTo(0.0734, 12);
    expect(split?.spread).toBeCloseTo(0.2484, 12);
    expect(meanGap(told)).toBeCloseTo(0.04, 12);
  });

  test('by the rising curve is the same where shares rise already', () => {
    expect(corp(told)?.off).toBeCloseTo(0.003, 12);
    expect(corp(told)?.apart).toBeCloseTo(0.0734, 12);
  });

  test('of nothing is nothing', () => {
    expect([murphy([]), corp([]), meanGap([])]).toEqual([null, null, null]);
    expect(reliability([])).toEqual([]);
  });
});

describe('the rising curve', () => {
  // Pooling by hand: 1, 0 pool to 1/2; then 0 pools all three to 1/3; 1 stays.
  test('pools what falls', () => {
    const curve = reliability([...times(0.2, 1, 1), ...times(0.4, 1, 0), ...times(0.6, 1, 0), ...times(0.8, 1, 1)]);
    expect(curve).toHaveLength(2);
    expect(curve[0]).toMatchObject({ from: 0.2, to: 0.6, count: 3 });
    expect(curve[0]?.share).toBeCloseTo(1 / 3, 12);
    expect(curve[1]).toEqual({ from: 0.8, to: 0.8, count: 1, share: 1 });
  });

  // By the min-max formula of isotonic regression: max over i <= k of min over j >= k of the mean of i..j.
  test('is what the min-max formula says, and rises, on random cases', () => {
    const random = numbersFrom(3);
    for (let round = 0; round < 30; round += 1) {
      const cases = Array.from({ length: 25 }, () => random())
        .sort((a, b) => a - b)
        .map((chance): Told => ({ chance, came: random() < chance ** 2 }));
      const mean = (i: number, j: number): number => cases.slice(i, j + 1).filter((c) => c.came).length / (j - i + 1);
      const curve = reliability(cases);
      cases.forEach(({ chance }, k) => {
        const formula = Math.max(
          ...cases.slice(0, k + 1).map((_, i) => Math.min(...cases.slice(k).map((__, j) => mean(i, k + j)))),
        );
        expect(curve.find((b) => chance <= b.to)?.share).toBeCloseTo(formula, 12);
      });
      const { score, off, apart, spread } = corp(cases)!;
      expect(off - apart + spread).toBeCloseTo(score, 12);
      expect(off).toBeGreaterThanOrEqual(-1e-12);
      expect(apart).toBeGreaterThanOrEqual(-1e-12);
    }
  });
});
