import { describe, expect, test } from 'vitest';
import { resistanceByRatioOhm } from '../../src/physics/ratio-form.js';
import { spreadThrough, type PlausibleShapes } from '../../src/physics/sheet-points.js';
import { resistanceBySteinhartHartOhm } from '../../src/physics/steinhart-hart.js';
import { tableCurve } from '../../src/physics/thermistor.js';
import { at, curveA, curveB, curveE, curveG, tables } from './published-curves.js';

const limits = { betaLowK: 3000, betaHighK: 4500, betaBetweenC: [0, 40] as const };
const shapes: PlausibleShapes = { references: Object.values(tables).map(tableCurve), ...limits };
const sheet = { temperatureC: 25, resistanceOhm: 5000 };

const band = (...args: Parameters<typeof spreadThrough>) => {
  const spread = spreadThrough(...args);
  if (spread.kind !== 'found') throw new Error(spread.side);
  return spread;
};

describe('one point', () => {
  test('5.4 kohm at 73 F on the sheet: at that temperature there is nothing to spread', () => {
    const point = { temperatureC: 22.8, resistanceOhm: 5400 };
    const { lowOhm, highOhm } = band([point], 22.8, shapes);
    expect(lowOhm).toBeCloseTo(5400, 6);
    expect(highOhm).toBeCloseTo(5400, 6);
  });

  test('from 25 degC: a factor 1.6 at 0, 2.6 at -20 degC, as the docstring states', () => {
    const factor = (temperatureC: number) => {
      const { lowOhm, highOhm } = band([sheet], temperatureC, shapes);
      return highOhm / lowOhm;
    };
    expect(factor(0)).toBeCloseTo(1.6, 1);
    expect(factor(-20)).toBeCloseTo(2.6, 1);
    expect(factor(20)).toBeLessThan(1.1);
  });

  test.each(['A', 'C', 'D', 'F'] as const)(
    'holds the published curve %s at every row when it is no reference',
    (name) => {
      const others = Object.entries(tables).filter(([other]) => other !== name);
      const without = { ...limits, references: others.map(([, rows]) => tableCurve(rows)) };
      const unknown = tables[name];
      for (const from of at(unknown, -20, 0, 25)) {
        for (const { temperatureC, resistanceOhm } of unknown) {
          const { lowOhm, highOhm } = band([from], temperatureC, without);
          expect(resistanceOhm).toBeGreaterThanOrEqual(lowOhm * (1 - 1e-9));
          expect(resistanceOhm).toBeLessThanOrEqual(highOhm * (1 + 1e-9));
        }
      }
    },
  );

  test('is as wide as the references bend: a reference alone, at its own Beta, returns itself', () => {
    const own = {
      references: [tableCurve(curveA)],
      betaLowK: 3876.58,
      betaHighK: 3876.59,
      betaBetweenC: [0, 40] as const,
    };
    for (const { temperatureC, resistanceOhm } of curveA) {
      const { lowOhm, highOhm } = band([{ temperatureC: 25, resistanceOhm: 10_000 }], temperatureC, own);
      expect(lowOhm / (2 * resistanceOhm)).toBeCloseTo(1, 4);
      expect(highOhm / (2 * resistanceOhm)).toBeCloseTo(1, 4);
    }
  });
});

describe('two points', () => {
  const computed = (ohms: (celsius: number) => number) =>
    curveA.map(({ temperatureC }) => ({ temperatureC, resistanceOhm: ohms(temperatureC) }));
  const strangers = [
    computed((celsius) => resistanceByRatioOhm(curveB, celsius)),
    computed((celsius) => resistanceBySteinhartHartOhm(curveE, celsius)),
    curveG,
  ];

  test('passes through both, and narrows to 5 % at -20 degC from 0 and 25', () => {
    const points = at(curveA, 0, 25) as [(typeof curveA)[0], (typeof curveA)[0]];
    expect(band(points, 0, shapes).highOhm).toBeCloseTo(16_312, 6);
    expect(band(points, 25, shapes).lowOhm).toBeCloseTo(5_000, 6);
    const { lowOhm, highOhm } = band(points, -20, shapes);
    expect(highOhm / lowOhm).toBeLessThan(1.05);
  });

  test('holds published curves that are no reference (Vishay 29049; 44005 class; Campbell 109SS)', () => {
    for (const curve of strangers) {
      const points = at(curve, -20, 0) as [(typeof curve)[0], (typeof curve)[0]];
      for (const { temperatureC, resistanceOhm } of curve) {
        const { lowOhm, highOhm } = band(points, temperatureC, shapes);
        expect(resistanceOhm).toBeGreaterThanOrEqual(lowOhm * 0.9999);
        expect(resistanceOhm).toBeLessThanOrEqual(highOhm * 1.0001);
      }
    }
  });
});

test('says where the references end, and refuses to guess without any', () => {
  expect(spreadThrough([sheet], -60, shapes)).toMatchObject({ kind: 'outside-span', side: 'colder', lowC: -40 });
  expect(spreadThrough([{ ...sheet, temperatureC: 60 }], 0, shapes)).toMatchObject({ kind: 'outside-span' });
  expect(() => spreadThrough([sheet], 0, { ...shapes, references: [] })).toThrow(/reference curves/);
  expect(() => spreadThrough([sheet], 0, { ...shapes, betaHighK: 2000 })).toThrow(/betaHighK/);
  expect(() => spreadThrough([sheet, { temperatureC: 0, resistanceOhm: 4000 }], 10, shapes)).toThrow(RangeError);
});
