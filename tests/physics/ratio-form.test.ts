import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { resistanceByRatioOhm, temperatureByRatioC } from '../../src/physics/ratio-form.js';
import { curveB, curveFForm, curveFRatios } from './published-curves.js';

test('the printed ratios of material type 1, both directions (Amphenol Thermometrics Reference Guide Rev C)', () => {
  const form = { ...curveFForm, r25Ohm: 1 };
  for (const { temperatureC, resistanceOhm: ratio } of curveFRatios) {
    expect(Math.abs(temperatureByRatioC(form, ratio) - temperatureC)).toBeLessThan(0.02);
    expect(Math.abs(resistanceByRatioOhm(form, temperatureC) / ratio - 1)).toBeLessThan(0.001); // 4 digits, 0.02 K
  }
});

test('5 kohm part of it: 16 320 ohm at 0 degC, 48 405 at -20 degC (ratio times R25)', () => {
  expect(Math.abs(resistanceByRatioOhm(curveFForm, 0) - 16_320)).toBeLessThan(0.001 * 16_320);
  expect(Math.abs(resistanceByRatioOhm(curveFForm, -20) - 48_405)).toBeLessThan(0.001 * 48_405);
});

test('the 3977 family from its coefficients (Vishay 29049): ratios, parts of other R25, and back', () => {
  const cases: [number, number, number][] = [
    [-40, 33.21, 89_667],
    [-20, 9.636, 26_017],
    [0, 3.2555, 8790],
    [25, 1, 2700],
    [40, 0.533, 1439],
  ];
  for (const [celsius, ratio, ohms] of cases) {
    expect(resistanceByRatioOhm(curveB, celsius) / 10_000 / ratio).toBeCloseTo(1, 3);
    expect(resistanceByRatioOhm({ ...curveB, r25Ohm: 2700 }, celsius) / ohms).toBeCloseTo(1, 3);
    expect(Math.abs(temperatureByRatioC(curveB, ratio * 10_000) - celsius)).toBeLessThan(0.02);
  }
});

test('the two directions agree to 0.012 K from -40 to +40 degC', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(curveB, curveFForm),
      fc.double({ min: -40, max: 40, noNaN: true }),
      fc.constantFrom(2252, 2700, 5000, 10_000),
      (form, celsius, r25Ohm) => {
        const part = { ...form, r25Ohm };
        const back = temperatureByRatioC(part, resistanceByRatioOhm(part, celsius));
        expect(Math.abs(back - celsius)).toBeLessThan(0.012);
      },
    ),
  );
});

test('refuses a shorted sensor and a part without R25', () => {
  expect(() => temperatureByRatioC(curveB, 0)).toThrow(RangeError);
  expect(() => resistanceByRatioOhm({ ...curveB, r25Ohm: 0 }, 0)).toThrow(/r25Ohm/);
});
