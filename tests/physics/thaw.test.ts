import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { layerMassKg, meltWaterLitres, thawTime } from '../../src/physics/thaw.js';

// 20 mm of solid ice on half a square metre, 917 kg/m3 (ice at 0 degC).
const sheet = { areaM2: 0.5, thicknessM: 0.02, densityKgM3: 917, temperatureC: -18 };
const still = { lowWM2K: 5, highWM2K: 12 };

test('mass and litres: 0.5 x 0.02 x 917 = 9.17 kg, as many litres of water', () => {
  expect(layerMassKg(sheet)).toBeCloseTo(9.17, 9);
  expect(meltWaterLitres(sheet)).toBeCloseTo(9.17, 9);
  expect(meltWaterLitres({ ...sheet, densityKgM3: 200 })).toBeCloseTo(2, 9);
});

test('hours at 21 degC by independent arithmetic: 18.34 kg/m2 x 371.8 kJ/kg over 21 K x 12 or 5 W/(m2 K)', () => {
  const time = thawTime(sheet, 21, still);
  if (time.kind !== 'thaws') throw new Error(time.kind);
  const joulesPerM2 = 18.34 * (2.101 * 18 + 334) * 1000;
  expect(time.lowHours).toBeCloseTo(joulesPerM2 / (12 * 21) / 3600, 6);
  expect(time.highHours).toBeCloseTo(joulesPerM2 / (5 * 21) / 3600, 6);
  expect(time.lowHours).toBeCloseTo(7.5, 1);
  expect(time.highHours).toBeCloseTo(18, 0); // within the 24 h that a full thaw is given (common practice, no source)
});

test('twice the thickness takes twice as long; the area plays no part; a warmer room is quicker', () => {
  const hours = (layer: typeof sheet, roomC: number) => {
    const time = thawTime(layer, roomC, still);
    return time.kind === 'thaws' ? time.highHours : NaN;
  };
  fc.assert(
    fc.property(
      fc.double({ min: 0.05, max: 2, noNaN: true }),
      fc.double({ min: 1, max: 35, noNaN: true }),
      (areaM2, roomC) => {
        expect(hours({ ...sheet, areaM2 }, roomC) / hours(sheet, roomC)).toBeCloseTo(1, 9);
        expect(hours({ ...sheet, thicknessM: 0.04 }, roomC) / hours(sheet, roomC)).toBeCloseTo(2, 9);
        expect(hours(sheet, roomC + 1)).toBeLessThan(hours(sheet, roomC));
      },
    ),
  );
});

test('in a freezing garage it stays', () => {
  expect(thawTime(sheet, 0, still)).toEqual({ kind: 'stays-frozen' });
  expect(thawTime(sheet, -5, still)).toEqual({ kind: 'stays-frozen' });
});

test('no layer, no range', () => {
  expect(() => layerMassKg({ ...sheet, areaM2: 0 })).toThrow(/areaM2/);
  expect(() => layerMassKg({ ...sheet, densityKgM3: 1000 })).toThrow(/densityKgM3/);
  expect(() => thawTime(sheet, 21, { lowWM2K: 12, highWM2K: 5 })).toThrow(/lowWM2K/);
  expect(() => thawTime({ ...sheet, temperatureC: 2 }, 21, still)).toThrow(/temperatureC/);
});
