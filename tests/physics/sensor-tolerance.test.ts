import { expect, test } from 'vitest';
import { toleranceBandK, toleranceBandOhm, type SensorTolerance } from '../../src/physics/sensor-tolerance.js';
import { tableCurve, type ThermistorCurve } from '../../src/physics/thermistor.js';
import { curveA, curveAPrinted, curveB, curveC } from './published-curves.js';

// Vishay 29094, page 5: R25 +-2 %, B25/85 = 3984 K +-0.5 %.
const curve = tableCurve(curveA);
const printed = { from: 'r25-and-beta', r25Fraction: 0.02, betaK: 3984, betaFraction: 0.005 } as const;
const columns: SensorTolerance = { from: 'columns' };

test.each(curveAPrinted)('at %d degC the printed limits follow from R25 and Beta, and from the columns', (...row) => {
  const [temperatureC, nominal, min, max, percent] = row;
  const computed = toleranceBandOhm(curve, printed, temperatureC);
  if (computed.kind !== 'found') throw new Error(computed.kind);
  expect(Math.abs(computed.lowOhm / min - 1)).toBeLessThan(0.0003);
  expect(Math.abs(computed.highOhm / max - 1)).toBeLessThan(0.0003);
  expect(Math.abs((100 * (computed.highOhm - computed.lowOhm)) / 2 / nominal - percent)).toBeLessThan(0.0051);
  const read = toleranceBandOhm(curve, columns, temperatureC);
  if (read.kind !== 'found') throw new Error(read.kind);
  expect(read.lowOhm).toBeCloseTo(min, 4);
  expect(read.highOhm).toBeCloseTo(max, 4);
});

test.each(curveAPrinted)('at %d degC the printed tolerance in kelvin, two digits', (...row) => {
  const [temperatureC, nominal, , , , kelvin] = row;
  for (const tolerance of [printed, columns]) {
    const band = toleranceBandK(curve, tolerance, nominal);
    if (band.kind !== 'found') throw new Error(band.kind);
    expect(band.temperatureC).toBeCloseTo(temperatureC, 4);
    expect(Math.abs(band.plusMinusK - kelvin)).toBeLessThan(0.011);
  }
});

test('in an ice bath 17 000 ohm is outside curve A, 16 000 inside', () => {
  const band = toleranceBandOhm(curve, columns, 0);
  if (band.kind !== 'found') throw new Error(band.kind);
  expect(17_000).toBeGreaterThan(band.highOhm);
  expect(16_000).toBeGreaterThan(band.lowOhm);
  expect(16_000).toBeLessThan(band.highOhm);
});

test('a promise in kelvin: curve A moved by 5 K is its neighbouring row, within the bend of the curve', () => {
  const band = toleranceBandOhm(curve, { from: 'kelvin', plusMinusK: 5 }, -20);
  if (band.kind !== 'found') throw new Error(band.kind);
  expect(band.lowOhm / 36_382).toBeCloseTo(1, 1); // the row at -15 degC
  expect(band.highOhm / 64_950).toBeCloseTo(1, 1); // the row at -25 degC
  const small = toleranceBandK(curve, { from: 'kelvin', plusMinusK: 0.2 }, 48_381);
  if (small.kind !== 'found') throw new Error(small.kind);
  expect(small.plusMinusK).toBeCloseTo(0.2, 4);
  expect(toleranceBandOhm(curve, { from: 'kelvin', plusMinusK: 0 }, -40)).toMatchObject({ kind: 'found' });
  expect(() => toleranceBandOhm(curve, { from: 'kelvin', plusMinusK: -1 }, 0)).toThrow(/plusMinusK/);
});

test('the band is narrowest at 25 degC and never the other way round', () => {
  const relative = (temperatureC: number) => {
    const band = toleranceBandOhm(curve, printed, temperatureC);
    return band.kind === 'found' ? band.highOhm / band.lowOhm : NaN;
  };
  expect(relative(25)).toBeCloseTo(1.02 / 0.98, 6);
  expect(relative(20)).toBeGreaterThan(relative(25));
  expect(relative(30)).toBeGreaterThan(relative(25));
  expect(relative(-40)).toBeGreaterThan(relative(-20));
});

test('without columns, and outside the span, it says so', () => {
  const ratio: ThermistorCurve = { form: 'ratio', ratio: curveB, lowC: -40, highC: 40 };
  expect(toleranceBandOhm(tableCurve(curveC), columns, 0)).toEqual({ kind: 'no-columns' });
  const halfPrinted = tableCurve(curveC.map((row) => ({ ...row, minOhm: row.resistanceOhm * 0.99 })));
  expect(toleranceBandOhm(halfPrinted, columns, 0)).toEqual({ kind: 'no-columns' });
  expect(toleranceBandOhm(ratio, columns, 0)).toEqual({ kind: 'no-columns' });
  expect(toleranceBandK(ratio, columns, 30_000)).toEqual({ kind: 'no-columns' });
  expect(toleranceBandOhm(curve, printed, -45)).toMatchObject({ kind: 'outside-span', side: 'colder' });
  expect(toleranceBandK(curve, printed, 1_000)).toMatchObject({ kind: 'outside-span', side: 'warmer' });
});

test('2 for 2 %, in place of 0.02, is refused', () => {
  expect(() => toleranceBandOhm(curve, { ...printed, r25Fraction: 2 }, 0)).toThrow(/r25Fraction/);
});
