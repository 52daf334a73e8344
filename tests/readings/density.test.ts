import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { below, heavyTailed, normal, smeared, thresholdBelow, uniform } from '../../src/readings/density.js';

// Abramowitz & Stegun, Handbook of Mathematical Functions, table 26.1.
test.each([
  [0, 0.5],
  [1, 0.8413447461],
  [1.96, 0.9750021049],
  [2.5, 0.9937903347],
  [-1, 0.1586552539],
  [-3, 0.001349898],
])('the share of a standard normal below %d is %d', (z, share) => {
  expect(Math.abs(below(z) - share)).toBeLessThan(1e-7);
});

/** Area under a density by the trapezium rule. */
function area(density: (x: number) => number, from: number, to: number): number {
  const steps = 200_000;
  const width = (to - from) / steps;
  let sum = (density(from) + density(to)) / 2;
  for (let i = 1; i < steps; i += 1) sum += density(from + i * width);
  return sum * width;
}

describe('every density integrates to 1', () => {
  test.each<[string, (x: number) => number]>([
    ['normal', (x) => normal(x, 3, 0.7)],
    ['uniform', (x) => uniform(x, -2, 5)],
    ['smeared', (x) => smeared(x, -2, 5, 0.4)],
    ['smeared, more error than width', (x) => smeared(x, 1, 1.2, 2)],
  ])('%s', (_, density) => {
    expect(area(density, -30, 30)).toBeCloseTo(1, 4);
  });
  test('heavy-tailed: half of it within its scale, all of it in the end', () => {
    const density = (x: number): number => heavyTailed(x, 1, 2);
    expect(area(density, -1, 3)).toBeCloseTo(0.5, 4);
    expect(area(density, -20_000, 20_000)).toBeGreaterThan(0.999);
  });
});

test('the chance that a threshold lies below is the area under the smeared density of the threshold', () => {
  for (const x of [-6, -1, 0, 2, 4.9, 5, 7]) {
    expect(thresholdBelow(x, -2, 5, 0.8)).toBeCloseTo(
      area((t) => smeared(t, -2, 5, 0.8), -20, x),
      4,
    );
  }
});

test('never negative, never above 1 where it is a chance', () => {
  const number = fc.double({ min: -1e6, max: 1e6, noNaN: true });
  const positive = fc.double({ min: 1e-3, max: 1e4, noNaN: true });
  fc.assert(
    fc.property(number, number, positive, positive, (x, low, width, sigma) => {
      expect(smeared(x, low, low + width, sigma)).toBeGreaterThanOrEqual(0);
      const chance = thresholdBelow(x, low, low + width, sigma);
      expect(chance).toBeGreaterThanOrEqual(0);
      expect(chance).toBeLessThanOrEqual(1);
    }),
  );
});
