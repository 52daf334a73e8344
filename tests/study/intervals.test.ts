import { describe, expect, test } from 'vitest';
import { leadOf, meanOf, upperBound } from '../../src/study/intervals.js';

describe('the upper bound of a share (Clopper and Pearson 1934, Biometrika 26)', () => {
  // No hit in n: 1 - 0.05^(1/n). 2,529 is the prospective trial of self-triage in JMIR 2024, e58157, which printed 0.1184 %.
  test.each([
    [50, 0.0582],
    [100, 0.0295],
    [300, 0.00994],
    [500, 0.00597],
    [1000, 0.00299],
    [2529, 0.00118385],
    [3000, 0.000998],
  ])('none of %d', (n, bound) => {
    expect(upperBound(0, n)).toBeCloseTo(1 - 0.05 ** (1 / n), 9);
    expect(Math.abs(upperBound(0, n) - bound)).toBeLessThan(5e-5);
  });

  // The two-sided interval of 10 in 100 is printed in many places as 4.90 to 17.62 % (from memory).
  test('ten of a hundred, at 2.5 %', () => {
    expect(upperBound(10, 100, 0.025)).toBeCloseTo(0.1762, 4);
    expect(upperBound(100, 100)).toBe(1);
  });
});

test('a mean with its interval, worked by hand', () => {
  // variance 5/3, standard error sqrt(5/12)
  expect(meanOf([1, 2, 3, 4]).mean).toBe(2.5);
  expect(meanOf([1, 2, 3, 4]).within).toBeCloseTo(1.959964 * Math.sqrt(5 / 12), 9);
});

test('a lead on the same callers: a fixed share less is sure', () => {
  const theirs = [100, 250, 400, 75];
  const { mean, within } = leadOf(
    theirs.map((m) => 0.8 * m),
    theirs,
  );
  expect(mean).toBeCloseTo(0.2, 12);
  expect(within).toBeCloseTo(0, 12);
});
