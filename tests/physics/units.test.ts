import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  kelvins,
  kelvinsFromFahrenheitDegrees,
  quantityOf,
  toPerson,
  toSi,
  unitsOf,
  type Quantity,
  type Unit,
  type UnitSystem,
} from '../../src/physics/units.js';

function si(value: number, unit: Unit): number {
  const converted = toSi(value, unit);
  if (converted.kind === 'impossible') throw new Error(`${value} ${unit} is impossible`);
  return converted.value;
}

test('every unit reaches the SI unit of its quantity', () => {
  // NIST SP 811, appendix B: inch and Fahrenheit exact.
  const cases: [number, Unit, number, Quantity][] = [
    [28.4, 'ohm', 28.4, 'resistance'],
    [5.4, 'kohm', 5400, 'resistance'],
    [1.5, 'Mohm', 1.5e6, 'resistance'],
    [118, 'V', 118, 'voltage'],
    [450, 'mV', 0.45, 'voltage'],
    [3.75, 'A', 3.75, 'current'],
    [800, 'mA', 0.8, 'current'],
    [-18, 'degC', -18, 'temperature'],
    [273.15, 'K', 0, 'temperature'],
    [60, '%', 60, 'relative-humidity'],
    [0.012, 'm', 0.012, 'thickness'],
    [1.2, 'cm', 0.012, 'thickness'],
    [3, 'mm', 0.003, 'thickness'],
    [0.25, 'in', 0.00635, 'thickness'],
  ];
  for (const [value, unit, expected, quantity] of cases) {
    expect(si(value, unit)).toBeCloseTo(expected, 10);
    expect(toSi(value, unit).quantity).toBe(quantity);
    expect(quantityOf(unit)).toBe(quantity);
  }
});

test('Fahrenheit as printed in 10 CFR 430 subpart B appendix A, sections 2.1.1 and 3.2', () => {
  expect(si(39, 'degF')).toBeCloseTo(3.9, 1);
  expect(si(0, 'degF')).toBeCloseTo(-17.8, 1);
  expect(si(15, 'degF')).toBeCloseTo(-9.4, 1);
  expect(si(90, 'degF')).toBeCloseTo(32.2, 1);
  expect(kelvinsFromFahrenheitDegrees(0.042)).toBeCloseTo(0.023, 3); // section 2.9: a difference, not a temperature
});

test('what nature does not allow is told, with its limits', () => {
  expect(toSi(-460, 'degF')).toMatchObject({ kind: 'impossible', lowest: -459.67 });
  expect(toSi(-459.67, 'degF')).toEqual({ kind: 'possible', quantity: 'temperature', value: -273.15 });
  expect(toSi(0, 'K')).toMatchObject({ kind: 'possible', value: -273.15 });
  expect(toSi(-1, 'K').kind).toBe('impossible');
  expect(toSi(-0.1, 'ohm').kind).toBe('impossible');
  expect(si(100, '%')).toBe(100);
  expect(toSi(101, '%')).toMatchObject({ kind: 'impossible', highest: 100 });
  expect(toSi(-3, 'mm').kind).toBe('impossible');
  expect(si(-9, 'V')).toBe(-9);
  expect(() => toSi(NaN, 'V')).toThrow(RangeError);
  expect(() => toSi(Infinity, 'ohm')).toThrow(/expected a finite number/);
  expect(() => kelvins(-273.15)).toThrow(RangeError);
});

test('a quantity knows its units; continuity has none', () => {
  expect(unitsOf('resistance')).toEqual(['ohm', 'kohm', 'Mohm']);
  expect(unitsOf('temperature')).toEqual(['degC', 'degF', 'K']);
  expect(unitsOf('continuity')).toEqual([]);
});

test('a person reads the unit of the trade, rounded to what an instrument shows', () => {
  expect(toPerson(28.44, 'resistance', 'us')).toEqual({ value: 28.4, unit: 'ohm' });
  expect(toPerson(5400, 'resistance', 'si')).toEqual({ value: 5.4, unit: 'kohm' });
  expect(toPerson(999.7, 'resistance', 'si')).toEqual({ value: 1, unit: 'kohm' });
  expect(toPerson(1.234e6, 'resistance', 'us')).toEqual({ value: 1.23, unit: 'Mohm' });
  expect(toPerson(0.3, 'resistance', 'us')).toEqual({ value: 0.3, unit: 'ohm' });
  expect(toPerson(0, 'resistance', 'us')).toEqual({ value: 0, unit: 'ohm' });
  expect(toPerson(118.4, 'voltage', 'us')).toEqual({ value: 118, unit: 'V' });
  expect(toPerson(0, 'voltage', 'us')).toEqual({ value: 0, unit: 'V' });
  expect(toPerson(-9, 'voltage', 'us')).toEqual({ value: -9, unit: 'V' });
  expect(toPerson(0.45, 'voltage', 'us')).toEqual({ value: 450, unit: 'mV' });
  expect(toPerson(3.75, 'current', 'si')).toEqual({ value: 3.75, unit: 'A' });
  expect(toPerson(-17.8, 'temperature', 'us')).toEqual({ value: 0, unit: 'degF' });
  expect(toPerson(-17.78, 'temperature', 'si')).toEqual({ value: -17.8, unit: 'degC' });
  expect(toPerson(-0.02, 'temperature', 'si').value).toBe(0); // no minus zero
  expect(toPerson(59.6, 'relative-humidity', 'us')).toEqual({ value: 60, unit: '%' });
  expect(toPerson(0.00635, 'thickness', 'us')).toEqual({ value: 0.25, unit: 'in' });
  expect(toPerson(0.0127, 'thickness', 'si')).toEqual({ value: 13, unit: 'mm' });
  expect(() => toPerson(NaN, 'voltage', 'us')).toThrow(RangeError);
});

test('to a person and back loses no more than the rounding', () => {
  const everyQuantity = [
    ['resistance', 1e-2, 1e7, 0.005],
    ['voltage', 1e-2, 500, 0.005],
    ['current', 1e-3, 30, 0.005],
    ['thickness', 1e-3, 0.5, 0.05],
  ] as const;
  for (const [quantity, low, high, relative] of everyQuantity) {
    fc.assert(
      fc.property(
        fc.double({ min: low, max: high, noNaN: true }),
        fc.constantFrom<UnitSystem[]>('us', 'si'),
        (value, system) => {
          const shown = toPerson(value, quantity, system);
          expect(Math.abs(si(shown.value, shown.unit) / value - 1)).toBeLessThanOrEqual(relative * 1.0001);
        },
      ),
    );
  }
  fc.assert(
    fc.property(fc.double({ min: -40, max: 50, noNaN: true }), (celsius) => {
      const us = toPerson(celsius, 'temperature', 'us');
      expect(Math.abs(si(us.value, us.unit) - celsius)).toBeLessThan(0.28);
      const metric = toPerson(celsius, 'temperature', 'si');
      expect(Math.abs(metric.value - celsius)).toBeLessThan(0.0501);
    }),
  );
});
