import { describe, expect, test } from 'vitest';
import { orderedRows, resistanceByTableOhm, temperatureByTableC } from '../../src/physics/resistance-table.js';
import { resistanceBySteinhartHartOhm } from '../../src/physics/steinhart-hart.js';
import { at, curveA, curveE, curveG, tables } from './published-curves.js';

describe.each(['A', 'C', 'D', 'F'] as const)('published table %s, every second row withheld', (name) => {
  const whole = tables[name];
  const kept = orderedRows(whole.filter(({ temperatureC }) => temperatureC % 10 === 0));

  test('temperatures of the withheld rows within 0.01 K', () => {
    for (const { temperatureC, resistanceOhm } of whole) {
      expect(Math.abs(temperatureByTableC(kept, resistanceOhm) - temperatureC)).toBeLessThan(0.01);
    }
  });

  test('resistances of the withheld rows within 0.05 % (0.01 K)', () => {
    for (const { temperatureC, resistanceOhm } of whole) {
      expect(Math.abs(resistanceByTableOhm(kept, temperatureC)! / resistanceOhm - 1)).toBeLessThan(0.0005);
    }
  });
});

test('unevenly spaced rows: the 1 degC-step table without -18 degC gives it (Campbell 109SS manual, C-1)', () => {
  const kept = orderedRows(curveG.filter(({ temperatureC }) => temperatureC !== -18));
  expect(Math.abs(temperatureByTableC(kept, 86_439.2) + 18)).toBeLessThan(0.005);
});

test('a curve that is a cubic itself comes back exactly, in the end intervals too (curve E, rows 20 K apart)', () => {
  const ohms = (temperatureC: number) => resistanceBySteinhartHartOhm(curveE, temperatureC);
  const rows = orderedRows([-40, -20, 0, 20, 40].map((cold) => ({ temperatureC: cold, resistanceOhm: ohms(cold) })));
  for (let celsius = -40; celsius <= 40; celsius += 1) {
    expect(temperatureByTableC(rows, ohms(celsius))).toBeCloseTo(celsius, 8);
  }
});

test('straight lines in ohms would be 0.9 K off between rows 10 K apart (curve A at -35 degC)', () => {
  const [cold, between, warm] = at(curveA, -40, -35, -30);
  const straight = (cold!.resistanceOhm + warm!.resistanceOhm) / 2;
  const rows = orderedRows(at(curveA, -40, -30, -20, -10, 0));
  expect(between!.temperatureC - temperatureByTableC(rows, straight)).toBeCloseTo(0.9, 1);
});

test('limits are read from their own columns, and only where every row near has them', () => {
  expect(resistanceByTableOhm(curveA, 0, 'minOhm')).toBeCloseTo(15_884, 0);
  expect(resistanceByTableOhm(curveA, 0, 'maxOhm')).toBeCloseTo(16_740, 0);
  expect(resistanceByTableOhm(tables.C, 0, 'minOhm')).toBeUndefined();
});

test('outside the rows there is no answer', () => {
  expect(() => temperatureByTableC(curveA, 170_000)).toThrow(/outside the rows/);
  expect(() => temperatureByTableC(curveA, 2_600)).toThrow(RangeError);
  expect(() => resistanceByTableOhm(curveA, -41)).toThrow(RangeError);
  expect(() => resistanceByTableOhm(curveA, 41)).toThrow(RangeError);
  expect(temperatureByTableC(curveA, 167_137)).toBeCloseTo(-40, 9);
  expect(temperatureByTableC(curveA, 2_662)).toBeCloseTo(40, 9);
});

test('what is no table is refused: too few rows, a rise, a row twice, limits that do not enclose', () => {
  const [a, b, c] = at(curveA, -10, 0, 10);
  expect(() => orderedRows([a!, b!])).toThrow(/3 or more/);
  expect(() => orderedRows([a!, b!, { ...c!, resistanceOhm: 17_000, maxOhm: 18_000 }])).toThrow(/fewer ohms/);
  expect(() => orderedRows([a!, b!, b!])).toThrow(/fewer ohms/);
  expect(() => orderedRows([a!, b!, { ...c!, minOhm: 10_000 }])).toThrow(/min <= value/);
  expect(() => orderedRows([a!, b!, { ...c!, resistanceOhm: NaN }])).toThrow(RangeError);
  expect(orderedRows([c!, a!, b!]).map(({ temperatureC }) => temperatureC)).toEqual([-10, 0, 10]);
});
