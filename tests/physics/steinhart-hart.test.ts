import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  betaBetweenK,
  fitThreePoints,
  resistanceBySteinhartHartOhm,
  temperatureBySteinhartHartC,
  type SensorPoint,
  type SteinhartHart,
} from '../../src/physics/steinhart-hart.js';
import { at, curveA, curveC, curveD, curveE, curveG, tables } from './published-curves.js';

type Two = readonly [SensorPoint, SensorPoint];
type Three = readonly [SensorPoint, SensorPoint, SensorPoint];

/** The worst error in K of a fit over the rows of a table. */
function worst(fit: SteinhartHart, table: readonly SensorPoint[]): number {
  return Math.max(
    ...table.map(({ resistanceOhm, temperatureC }) =>
      Math.abs(temperatureBySteinhartHartC(fit, resistanceOhm) - temperatureC),
    ),
  );
}

describe('three points', () => {
  test.each([
    ['A', 0.005],
    ['C', 0.001],
    ['D', 0.023],
    ['F', 0.0131],
  ] as const)('published table %s: fitted at -40, 0, +40 degC, every other row within %d K', (name, within) => {
    expect(worst(fitThreePoints(at(tables[name], -40, 0, 40) as unknown as Three), tables[name])).toBeLessThan(within);
  });

  test('the 1 degC-step table (Campbell 109SS manual, C-1) within 0.001 K, -18 degC among its points', () => {
    expect(worst(fitThreePoints(at(curveG, -40, -15, 1) as unknown as Three), curveG)).toBeLessThan(0.001);
  });

  test('coefficients of curve A and C; c may be negative', () => {
    const a = fitThreePoints(at(curveA, 40, -40, 0) as unknown as Three); // order plays no part
    expect(a.a).toBeCloseTo(1.290197e-3, 9);
    expect(a.b).toBeCloseTo(2.352371e-4, 10);
    expect(a.c).toBeCloseTo(9.760946e-8, 13);
    const c = fitThreePoints(at(curveC, -40, 0, 40) as unknown as Three);
    expect(c.a).toBeCloseTo(6.69298e-4, 9);
    expect(c.b).toBeCloseTo(2.91525e-4, 10);
    expect(c.c).toBeLessThan(0);
  });

  test('published freezer values: 48 381 ohm is -20.00, 16 312 is 0.00, 5 000 is 25.00 degC (Vishay 29094)', () => {
    const fit = fitThreePoints(at(curveA, -40, 0, 40) as unknown as Three);
    expect(Math.abs(temperatureBySteinhartHartC(fit, 48_381) + 20)).toBeLessThan(0.02);
    expect(Math.abs(temperatureBySteinhartHartC(fit, 16_312))).toBeLessThan(0.02);
    expect(Math.abs(temperatureBySteinhartHartC(fit, 5_000) - 25)).toBeLessThan(0.02);
  });

  test('points that do not fall are refused', () => {
    const [cold, mild, warm] = at(curveA, -20, 0, 25) as unknown as Three;
    expect(() => fitThreePoints([cold, mild, { ...warm, resistanceOhm: mild.resistanceOhm }])).toThrow(RangeError);
    expect(() => fitThreePoints([cold, mild, { ...warm, resistanceOhm: 99_000 }])).toThrow(/fall of ln R/);
    expect(() => fitThreePoints([cold, mild, { ...mild, resistanceOhm: 9000 }])).toThrow(/step in 1\/T/);
    expect(() => fitThreePoints([cold, mild, { ...warm, resistanceOhm: 0 }])).toThrow(/resistanceOhm is 0/);
  });
});

test('worked example: 2221 ohm is 31.98 degC (Campbell Scientific CDM-VW300 manual, F.1.1; it truncates)', () => {
  expect(Math.abs(temperatureBySteinhartHartC(curveE, 2221) - 31.98)).toBeLessThan(0.02);
});

describe('the Beta form', () => {
  test('is off by more than 1.5 K below freezing, so it converts no freezer reading (against Vishay 29094)', () => {
    // 1/T = 1/298.15 K + ln(R/5000) / 3984 K
    const byBeta = (ohm: number): number => 1 / (1 / 298.15 + Math.log(ohm / 5000) / 3984) - 273.15;
    expect(byBeta(48_381)).toBeCloseTo(-18.29, 2);
    expect(byBeta(167_137)).toBeCloseTo(-37.02, 2);
    for (const { resistanceOhm, temperatureC } of at(curveA, -20, -40))
      expect(byBeta(resistanceOhm) - temperatureC).toBeGreaterThan(1.5);
    const fit = fitThreePoints(at(curveA, -40, 0, 40) as unknown as Three);
    expect(worst(fit, at(curveA, -20, -40))).toBeLessThan(0.02);
  });

  test('derived Beta of published rows', () => {
    const at85 = (resistanceOhm: number) => ({ temperatureC: 85, resistanceOhm });
    expect(betaBetweenK([at(curveA, 25)[0]!, at85(533.1)])).toBeCloseTo(3983.8, 0); // Vishay: 3984
    expect(betaBetweenK([at(curveC, 25)[0]!, at85(1454)])).toBeCloseTo(3432, 0);
    expect(betaBetweenK(at(curveA, 0, 25) as unknown as Two)).toBeCloseTo(3852, 0);
  });
});

test('temperature to resistance and back, for either sign of c', () => {
  const fits = [curveA, curveC, curveD].map((table) => fitThreePoints(at(table, -40, 0, 40) as unknown as Three));
  fc.assert(
    fc.property(fc.constantFrom(curveE, ...fits), fc.double({ min: -45, max: 60, noNaN: true }), (fit, celsius) => {
      const back = temperatureBySteinhartHartC(fit, resistanceBySteinhartHartOhm(fit, celsius));
      expect(Math.abs(back - celsius)).toBeLessThan(1e-8);
    }),
  );
});

test('resistance by coefficients gives the rows of the table they were fitted to', () => {
  const fit = fitThreePoints(at(curveA, -40, 0, 40) as unknown as Three);
  for (const { temperatureC, resistanceOhm } of curveA) {
    expect(resistanceBySteinhartHartOhm(fit, temperatureC) / resistanceOhm).toBeCloseTo(1, 3);
  }
});

test('no temperature for a shorted sensor, no resistance at absolute zero, no answer from nonsense', () => {
  expect(() => temperatureBySteinhartHartC(curveE, 0)).toThrow(RangeError);
  expect(() => temperatureBySteinhartHartC(curveE, Infinity)).toThrow(RangeError);
  expect(() => resistanceBySteinhartHartOhm(curveE, -273.15)).toThrow(RangeError);
  expect(() => resistanceBySteinhartHartOhm({ a: 1e-3, b: -1e-4, c: 0 }, 20)).toThrow(/b is/);
});
