import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { place, widened } from '../../src/readings/band.js';

const band = { low: 10, high: 20, uncertainty: 0.5 };

test.each([
  [15, 'good', 'inside'],
  [9, 'good', 'inside'],
  [21, 'good', 'inside'],
  [8.9, 'inconclusive', 'below'],
  [8, 'inconclusive', 'below'],
  [7.9, 'bad', 'below'],
  [21.1, 'inconclusive', 'above'],
  [22.1, 'bad', 'above'],
])('k = 2 and k = 2 again: %d is %s', (value, verdict, side) => {
  expect(place(value, band)).toEqual({ verdict, side });
});

test('common practice calls bad only what is farther out', () => {
  expect(place(25, band, 10).verdict).toBe('inconclusive');
  expect(place(30.1, band, 10).verdict).toBe('bad');
});

test('good is exactly inside the widened band; farther out is never better', () => {
  const rank = { good: 0, inconclusive: 1, bad: 2 };
  fc.assert(
    fc.property(
      fc.double({ min: -50, max: 80, noNaN: true }),
      fc.double({ min: 0, max: 5, noNaN: true }),
      (value, out) => {
        const { low, high } = widened(band);
        expect(place(value, band).verdict === 'good').toBe(value >= low && value <= high);
        const farther = value < 15 ? value - out : value + out;
        expect(rank[place(farther, band).verdict]).toBeGreaterThanOrEqual(rank[place(value, band).verdict]);
      },
    ),
  );
});
