import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  resistanceAt,
  sensitivityAt,
  tableCurve,
  temperatureAt,
  type ThermistorCurve,
} from '../../src/physics/thermistor.js';
import { curveA, curveB, curveC, curveE, tables } from './published-curves.js';

const span = { lowC: -40, highC: 40 };
const byTable = tableCurve(curveA);
const byRatio: ThermistorCurve = { form: 'ratio', ratio: curveB, ...span };
const byCoefficients: ThermistorCurve = { form: 'steinhart-hart', coefficients: curveE, lowC: -50, highC: 150 };
const forms = [byTable, byRatio, byCoefficients];

const celsius = (curve: ThermistorCurve, ohms: number) => {
  const found = temperatureAt(curve, ohms);
  return found.kind === 'found' ? found.temperatureC : found.side;
};

test('one question, three published forms (Vishay 29094; Vishay 29049; Campbell CDM-VW300)', () => {
  expect(celsius(byTable, 48_381)).toBeCloseTo(-20, 2);
  expect(celsius(byTable, 16_312)).toBeCloseTo(0, 2);
  expect(Math.abs((celsius(byRatio, 96_360) as number) + 20)).toBeLessThan(0.02);
  expect(Math.abs((celsius(byCoefficients, 2221) as number) - 31.98)).toBeLessThan(0.02);
});

test('the choice of curve matters: same 10 kohm at 25 degC, 6 to 7 K apart at -20 degC', () => {
  expect(celsius(tableCurve(curveC), 77_373)).toBeCloseTo(-20, 2);
  const wrong = celsius(byRatio, 77_373) as number;
  expect(wrong + 20).toBeGreaterThan(3);
  expect((celsius(byRatio, 68_104) as number) + 20).toBeGreaterThan(5.5);
});

test('outside its span a curve says so, which end was passed and where it ends', () => {
  expect(resistanceAt(byTable, -41)).toEqual({ kind: 'outside-span', side: 'colder', lowC: -40, highC: 40 });
  expect(resistanceAt(byTable, 40.1)).toMatchObject({ kind: 'outside-span', side: 'warmer' });
  expect(temperatureAt(byTable, 200_000)).toMatchObject({ kind: 'outside-span', side: 'colder' });
  expect(temperatureAt(byRatio, 1_000)).toMatchObject({ kind: 'outside-span', side: 'warmer' });
  expect(sensitivityAt(byTable, 60)).toMatchObject({ kind: 'outside-span' });
});

test('both ends of the span belong to it', () => {
  for (const curve of forms) {
    for (const end of [curve.lowC, curve.highC]) {
      const there = resistanceAt(curve, end);
      if (there.kind !== 'found') throw new Error('the end is outside');
      expect(celsius(curve, there.resistanceOhm)).toBeCloseTo(end, 1);
    }
  }
});

test('temperature to resistance and back: table 0.01 K, ratio 0.012 K, coefficients exact', () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...forms, ...Object.values(tables).map(tableCurve)),
      fc.double({ min: -40, max: 40, noNaN: true }),
      (curve, temperatureC) => {
        const there = resistanceAt(curve, temperatureC);
        if (there.kind !== 'found') throw new Error('inside the span');
        const back = celsius(curve, there.resistanceOhm) as number;
        const limit = { table: 0.01, ratio: 0.012, 'steinhart-hart': 1e-8 }[curve.form];
        expect(Math.abs(back - temperatureC)).toBeLessThan(limit);
      },
    ),
  );
});

test('colder is always more ohms, across the joints of a table too', () => {
  const temperature = fc.double({ min: -40, max: 40, noNaN: true });
  fc.assert(
    fc.property(
      fc.constantFrom(...Object.values(tables).map(tableCurve)),
      temperature,
      temperature,
      (curve, one, two) => {
        fc.pre(Math.abs(one - two) > 0.001);
        const [cold, warm] = [Math.min(one, two), Math.max(one, two)].map((degrees) => resistanceAt(curve, degrees));
        if (cold?.kind !== 'found' || warm?.kind !== 'found') throw new Error('inside the span');
        expect(cold.resistanceOhm).toBeGreaterThan(warm.resistanceOhm);
      },
    ),
  );
});

test('slope of curve A from its neighbouring rows', () => {
  const row = (at: number) => curveA.find(({ temperatureC }) => temperatureC === at)!.resistanceOhm;
  for (const at of [-35, -20, 0, 25]) {
    const slope = sensitivityAt(byTable, at);
    if (slope.kind !== 'found') throw new Error('inside the span');
    expect(slope.perKelvin / (Math.log(row(at - 5) / row(at + 5)) / 10)).toBeCloseTo(1, 2);
  }
  expect(sensitivityAt(byTable, -40).kind).toBe('found');
  expect(sensitivityAt(byTable, 40).kind).toBe('found');
});

test('a shorted sensor is no temperature', () => {
  expect(() => temperatureAt(byTable, 0)).toThrow(RangeError);
  expect(() => temperatureAt(byTable, NaN)).toThrow(RangeError);
  expect(() => resistanceAt(byTable, -300)).toThrow(RangeError);
});
