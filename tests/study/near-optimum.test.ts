import { expect, test } from 'vitest';
import { nearOptimum, sizes } from '../../src/study/near-optimum.js';

test('the same seed gives the same figures, another seed others; every problem is told', () => {
  let seen = 0;
  const one = nearOptimum(3, 7, () => (seen += 1));
  expect(seen).toBe(3 * sizes);
  expect(nearOptimum(3, 7, () => undefined)).toEqual(one);
  expect(nearOptimum(3, 8, () => undefined)).not.toEqual(one);
});

test('no policy beats the optimum', () => {
  for (const { policies } of nearOptimum(5, 1, () => undefined))
    for (const [name, { mean, worst }] of Object.entries(policies)) {
      expect(mean, name).toBeGreaterThanOrEqual(1 - 1e-9);
      expect(worst, name).toBeGreaterThanOrEqual(mean);
    }
});
