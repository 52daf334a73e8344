import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { heatToMeltJ } from '../../src/physics/frost.js';

test('200 g of frost from -20 degC: 0.2 (2.10 x 20 + 334) kJ = 75.2 kJ = 20.9 Wh', () => {
  expect(heatToMeltJ(0.2, -20) / 1000).toBeCloseTo(0.2 * (2.1 * 20 + 334), 1);
  expect(heatToMeltJ(0.2, -20) / 3600).toBeCloseTo(20.9, 1);
});

test('at 0 degC only the fusion is left: 6012 J/mol (Thermodynamic and Physical Properties of Water and Ice, app. I)', () => {
  expect(Math.abs(heatToMeltJ(0.018015, 0) - 6012)).toBeLessThan(6012 * 0.002);
  expect(heatToMeltJ(0, -20)).toBe(0);
});

test('warming needs little beside melting: 14 % from -22 degC', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0.01, max: 20, noNaN: true }),
      fc.double({ min: -40, max: 0, noNaN: true }),
      (mass, celsius) => {
        const share = heatToMeltJ(mass, celsius) / heatToMeltJ(mass, 0) - 1;
        expect(share).toBeCloseTo((-celsius * 2101) / 334_000, 9);
      },
    ),
  );
});

test('water does not melt, nor does less than nothing', () => {
  expect(() => heatToMeltJ(0.2, 3)).toThrow(/temperatureC/);
  expect(() => heatToMeltJ(-1, -3)).toThrow(/massKg/);
});
