import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  drawnCurrentA,
  drawnPowerW,
  ratedBandOhm,
  ratedResistanceOhm,
  withoutLeadsOhm,
} from '../../src/physics/resistor.js';

// +5 / -10 % of rated input above 200 W: IEC 60335-1, table 1, from memory.
const tolerance = { under: 0.1, over: 0.05 };

// Independent arithmetic for the table (V^2/P, worked by hand): W, ohm at 120 V, low, high, A at 120 V, ohm at 230 V.
test.each([
  [300, 48.0, 45.7, 53.3, 2.5, 176.3],
  [350, 41.1, 39.2, 45.7, 2.92, 151.1],
  [400, 36.0, 34.3, 40.0, 3.33, 132.2],
  [450, 32.0, 30.5, 35.6, 3.75, 117.6],
  [500, 28.8, 27.4, 32.0, 4.17, 105.8],
  [600, 24.0, 22.9, 26.7, 5.0, 88.2],
])('a heater of %d W', (power, ohm, low, high, amperes, ohmAt230) => {
  expect(Math.abs(ratedResistanceOhm(power, 120) - ohm)).toBeLessThan(0.051);
  const band = ratedBandOhm(power, 120, tolerance);
  expect(Math.abs(band.lowOhm - low)).toBeLessThan(0.051);
  expect(Math.abs(band.highOhm - high)).toBeLessThan(0.051);
  expect(Math.abs(drawnCurrentA(ratedResistanceOhm(power, 120), 120) - amperes)).toBeLessThan(0.0051);
  expect(Math.abs(ratedResistanceOhm(power, 230) - ohmAt230)).toBeLessThan(0.051);
});

test('the same 450 W element on 114 V gives 406 W, on 126 V 496 W; 32 ohm is no 230 V heater', () => {
  expect(drawnPowerW(32, 114)).toBeCloseTo(406.1, 1);
  expect(drawnPowerW(32, 126)).toBeCloseTo(496.1, 1);
  expect(drawnPowerW(32, 0)).toBe(0);
  expect(ratedBandOhm(450, 230, tolerance).lowOhm).toBeGreaterThan(100);
});

test('leads of 0.3 ohm come off a heater that reads 32.4 (GVDA manual: leads 0.2 to 0.5 ohm)', () => {
  expect(withoutLeadsOhm(32.4, 0.3)).toBeCloseTo(32.1, 9);
  expect(withoutLeadsOhm(0.2, 0.3)).toBe(0);
});

test('rating to ohms to watts is where it began, and the band holds the nominal', () => {
  const watts = fc.double({ min: 1, max: 3000, noNaN: true });
  const volts = fc.double({ min: 12, max: 400, noNaN: true });
  fc.assert(
    fc.property(watts, volts, (power, voltage) => {
      const ohm = ratedResistanceOhm(power, voltage);
      expect(drawnPowerW(ohm, voltage) / power).toBeCloseTo(1, 9);
      const { lowOhm, highOhm } = ratedBandOhm(power, voltage, tolerance);
      expect(lowOhm).toBeLessThan(ohm);
      expect(highOhm).toBeGreaterThan(ohm);
    }),
  );
});

test('no rating, no resistance', () => {
  expect(() => ratedResistanceOhm(0, 120)).toThrow(/powerW/);
  expect(() => ratedResistanceOhm(450, NaN)).toThrow(/voltageV/);
  expect(() => drawnCurrentA(0, 120)).toThrow(/resistanceOhm/);
  expect(() => ratedBandOhm(450, 120, { under: 10, over: 5 })).toThrow(/over/); // per cent in place of a fraction
  expect(() => withoutLeadsOhm(-1, 0.2)).toThrow(RangeError);
});
