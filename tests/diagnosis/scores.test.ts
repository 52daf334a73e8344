import { describe, expect, test } from 'vitest';
import { brier, logScore } from '../../src/diagnosis/scores.js';

const told = (a: number): { fault: string; probability: number }[] => [
  { fault: 'a', probability: a },
  { fault: 'b', probability: 1 - a },
];
const mean = (numbers: readonly number[]): number => numbers.reduce((sum, n) => sum + n, 0) / numbers.length;

// The examples in scikit-learn's documentation (from memory, and worked by hand). Its Brier score counts one of two
// classes only, which is half of the original definition (Brier 1950, Monthly Weather Review 78) that is used here.
test('the Brier score of the documentation: 0.0375 for one class, twice that for both', () => {
  const cases = [
    [0.1, 'b'],
    [0.9, 'a'],
    [0.8, 'a'],
    [0.3, 'b'],
  ] as const;
  expect(mean(cases.map(([p, cause]) => brier(told(p), cause)))).toBeCloseTo(2 * 0.0375, 12);
});

test('the log loss of the documentation: 0.21616', () => {
  const cases = [
    [0.1, 'b'],
    [0.9, 'a'],
    [0.8, 'a'],
    [0.35, 'b'],
  ] as const;
  expect(mean(cases.map(([p, cause]) => logScore(told(p), cause)))).toBeCloseTo(0.21616, 5);
});

describe('the ends of the scales', () => {
  test('certain and right is 0, certain and wrong is 2, and a log that stays finite', () => {
    expect(brier(told(1), 'a')).toBe(0);
    expect(brier(told(1), 'b')).toBe(2);
    expect(logScore(told(1), 'a')).toBeCloseTo(0, 12);
    expect(logScore(told(1), 'b')).toBeCloseTo(-Math.log(1e-6), 12);
    expect(logScore(told(1), 'never ranked')).toBeCloseTo(-Math.log(1e-6), 12);
  });

  // Both are proper: in the long run no other chance told costs less than the one that is meant.
  test('telling the chance that is meant costs least', () => {
    for (const truth of [0.1, 0.5, 0.8])
      for (const score of [brier, logScore]) {
        const cost = (p: number): number => truth * score(told(p), 'a') + (1 - truth) * score(told(p), 'b');
        for (let p = 0.05; p < 1; p += 0.05) expect(cost(p)).toBeGreaterThanOrEqual(cost(truth) - 1e-12);
      }
  });
});
