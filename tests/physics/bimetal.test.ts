import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { agreedContact, expectedContact, readMark } from '../../src/physics/bimetal.js';

// Opens at 55 F (12.8 degC), 30 F (16.7 K) lower it closes: a common pair, from memory. +-3 K is the closest class of
// snap discs in KSD301-type component pages.
const disc = { opensC: 12.8, differentialK: 16.7 };
const uncertainty = { opensK: 3, closesK: 3, testedAtK: 1 };

describe('a rated thermostat', () => {
  test.each([
    [-18, 'must-be-closed'],
    [-8, 'must-be-closed'], // closes at -3.9, less 3 for the part and 1 for the thermometer: -7.9
    [-7.5, 'either'],
    [0, 'either'],
    [10, 'either'],
    [16.7, 'either'],
    [16.9, 'must-be-open'], // opens at 12.8, 3 for the part and 1 for the thermometer: 16.8
    [25, 'must-be-open'], // so open at room temperature is normal, not failed
  ])('at %d degC %s', (tested, expected) => {
    expect(expectedContact(disc, tested, uncertainty)).toBe(expected);
  });

  test('at exactly its own temperatures it has to have switched', () => {
    const exact = { opensK: 0, closesK: 0, testedAtK: 0 };
    expect(expectedContact({ opensC: 10, differentialK: 10 }, 0, exact)).toBe('must-be-closed');
    expect(expectedContact({ opensC: 10, differentialK: 10 }, 10, exact)).toBe('must-be-open');
  });

  test('more doubt never turns either into a demand', () => {
    const kelvin = fc.double({ min: 0, max: 10, noNaN: true });
    fc.assert(
      fc.property(fc.double({ min: -40, max: 40, noNaN: true }), kelvin, kelvin, (tested, less, more) => {
        const sure = expectedContact(disc, tested, { opensK: less, closesK: less, testedAtK: less });
        const unsure = expectedContact(disc, tested, { opensK: less + more, closesK: less, testedAtK: less + more });
        if (sure === 'either') expect(unsure).toBe('either');
        if (unsure !== 'either') expect(unsure).toBe(sure);
      }),
    );
  });

  test('no difference, no thermostat', () => {
    expect(() => expectedContact({ opensC: 10, differentialK: 0 }, -18, uncertainty)).toThrow(/differentialK/);
    expect(() => expectedContact({ opensC: NaN, differentialK: 10 }, -18, uncertainty)).toThrow(/opensC/);
    expect(() => expectedContact(disc, -300, uncertainty)).toThrow(/testedAtC/);
    expect(() => expectedContact(disc, -18, { ...uncertainty, opensK: -1 })).toThrow(RangeError);
  });
});

describe('the mark "60-40" (common practice, no source)', () => {
  const rounded = (readings: ReturnType<typeof readMark>) =>
    readings.map(({ opensC, differentialK, unit, second }) => [
      unit,
      second,
      Math.round(opensC * 10) / 10,
      Math.round((opensC - differentialK) * 10) / 10,
    ]);

  test('has four readings: opens and closes in degC', () => {
    expect(rounded(readMark(60, 40))).toEqual([
      ['degF', 'differential', 15.6, -6.7], // 60 F, 20 F
      ['degF', 'reset', 15.6, 4.4], // 60 F, 40 F
      ['degC', 'differential', 60, 20],
      ['degC', 'reset', 60, 40],
    ]);
  });

  test('with its unit, two', () => {
    expect(rounded(readMark(60, 40, 'degC')).map(([unit]) => unit)).toEqual(['degC', 'degC']);
    expect(readMark(60, 40, 'degF')).toHaveLength(2);
  });

  test('gives a verdict only where all agree: cold yes, room temperature no, very warm yes', () => {
    const readings = readMark(60, 40);
    expect(agreedContact(readings, -18, uncertainty)).toBe('must-be-closed');
    expect(agreedContact(readings, -8, uncertainty)).toBe('depends-on-mark'); // 20 F, less 4 K, is -10.7
    expect(agreedContact(readings, 22, uncertainty)).toBe('depends-on-mark');
    expect(agreedContact(readMark(60, 40, 'degF'), 22, uncertainty)).toBe('must-be-open');
    expect(agreedContact(readMark(60, 40, 'degC'), 10, uncertainty)).toBe('must-be-closed');
    expect(agreedContact(readMark(60, 40, 'degF'), 10, uncertainty)).toBe('either');
    expect(agreedContact(readings, 70, uncertainty)).toBe('must-be-open');
  });
});

test('impossible readings of a mark are dropped', () => {
  expect(readMark(40, 40).map(({ second }) => second)).toEqual(['differential', 'differential']); // no reset at 40
  expect(readMark(40, 0).map(({ second }) => second)).toEqual(['reset', 'reset']); // no differential of 0
  expect(readMark(60, -10).every(({ second }) => second === 'reset')).toBe(true);
  expect(readMark(20, 300, 'degC').map(({ second }) => second)).toEqual(['reset']); // would close at -280 degC
  expect(readMark(20, 300, 'degC')[0]).toMatchObject({ opensC: 300, differentialK: 280 });
  expect(agreedContact([], -18, uncertainty)).toBe('depends-on-mark');
  expect(() => readMark(NaN, 40)).toThrow(RangeError);
  expect(() => readMark(60, NaN)).toThrow(RangeError);
});

test('every reading kept closes below where it opens, and above absolute zero', () => {
  const number = fc.integer({ min: -40, max: 400 });
  fc.assert(
    fc.property(number, number, (first, second) => {
      for (const { opensC, differentialK } of readMark(first, second)) {
        expect(differentialK).toBeGreaterThan(0);
        expect(opensC - differentialK).toBeGreaterThan(-273.15);
      }
    }),
  );
});
