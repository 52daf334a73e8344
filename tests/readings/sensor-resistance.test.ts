import { expect, test } from 'vitest';
import { judged, measured, odds } from './a-case.js';

const OHMS = 'defrost-sensor.resistance';
const sheet = { value: 5.4, unit: 'kohm', atC: 22.8 } as const;
const fiveK = 'ntc-5k-b3984';

test('5.4 kohm at 73 F is good against a sheet that says 5,400 at 73 F, and against a 5 kohm curve', () => {
  const stated = { value: 5.4, unit: 'kohm', atC: 22.8 } as const;
  expect(judged(OHMS, { ...stated, sheet })).toMatchObject({ verdict: 'good', outcome: 'good', against: 'sheet' });
  for (const curve of [fiveK, 'ntc-5k-type-1'])
    expect(judged(OHMS, { ...stated, curve })).toMatchObject({ verdict: 'good', against: 'curve' });
  const sentence = judged(OHMS, { ...stated, sheet }, { units: 'us' }).why;
  expect(sentence).toContain('5.4 kΩ at 73 °F');
  expect(judged(OHMS, { ...stated, sheet }, { units: 'si' }).why).toContain('22.8 °C');
});

// Vishay NTCALUG02A502G, document 29094, rev. 17-Nov-17, page 5: nominal, min and max in ohm.
test.each([
  [-20, 48_381, 46_827, 49_934],
  [-10, 27_609, 26_807, 28_411],
  [0, 16_312, 15_884, 16_740],
  [25, 5_000, 4_900, 5_100],
])('curve A at %d degC: nominal and both printed limits are good, far outside is bad', (atC, nominal, low, high) => {
  const verdict = (value: number): string => judged(OHMS, { value, unit: 'ohm', atC, curve: fiveK }).verdict;
  expect([nominal, low, high].map(verdict)).toEqual(['good', 'good', 'good']);
  expect([low * 0.8, high * 1.2].map(verdict)).toEqual(['bad', 'bad']);
  const { expected } = judged(OHMS, { value: nominal, unit: 'ohm', atC, curve: fiveK });
  expect(expected).toMatchObject({ unit: 'ohm' });
  const band = expected as { low: number; high: number };
  expect(band.low).toBeLessThan(low);
  expect(band.high).toBeGreaterThan(high);
  expect(band.low).toBeGreaterThan(low * 0.93);
});

// 17,000 ohm in an ice bath is outside the printed 15,884 to 16,740; meter and thermometer may explain it.
test('just outside the printed limits is good or inconclusive by the uncertainty, never bad', () => {
  expect(judged(OHMS, { value: 17_000, unit: 'ohm', atC: 0, curve: fiveK }).verdict).toBe('good');
  const verdicts = [17_200, 17_600, 18_300].map(
    (value) => judged(OHMS, { value, unit: 'ohm', atC: 0, curve: fiveK }).verdict,
  );
  expect(verdicts).toEqual(['good', 'inconclusive', 'bad']);
});

// The same R25, two slopes: 77,373 ohm (NCPxxXH103, Linux ntc_thermistor.c) and 96,360 ohm (Vishay 29049) at -20 degC.
test('the curve decides: 77 kohm at -20 degC is good on the flat 10 kohm curve and bad on the steep one', () => {
  const stated = { value: 77_373, unit: 'ohm', atC: -20 } as const;
  expect(judged(OHMS, { ...stated, curve: 'ntc-10k-b3435' }).verdict).toBe('good');
  expect(judged(OHMS, { ...stated, curve: 'ntc-10k-b3977' }).verdict).toBe('bad');
});

test('one point of a sheet spreads towards the cold: 16.4 kohm in ice is good, 11.2 and 24 kohm are bad', () => {
  const verdict = (value: number): string =>
    judged(OHMS, { value, unit: 'ohm', atC: 0, settledMinutes: 12, sheet }).verdict;
  expect([16_400, 14_000, 11_200, 24_000].map(verdict)).toEqual(['good', 'good', 'bad', 'bad']);
});

test('a family with three points on its sheet', () => {
  const family = 'larkmoor-3-door';
  expect(judged(OHMS, { value: 16, unit: 'kohm', atC: 0 }, { family })).toMatchObject({
    verdict: 'good',
    against: 'case',
  });
  expect(judged(OHMS, { value: 9, unit: 'kohm', atC: 0, settledMinutes: 10 }, { family })).toMatchObject({
    verdict: 'bad',
  });
  expect(judged(OHMS, { value: 70, unit: 'kohm', atC: -25 }, { family }).verdict).not.toBe('bad');
});

test('the sheet of an earlier reading is what the case knows', () => {
  const readings = [measured(OHMS, { value: 5.4, unit: 'kohm', atC: 22.8, sheet })];
  expect(judged(OHMS, { value: 16.4, unit: 'kohm', atC: 0 }, { readings })).toMatchObject({
    verdict: 'good',
    against: 'case',
  });
});

test('without its temperature: inconclusive, moves nothing, asks for it', () => {
  for (const by of [{}, { sheet }, { curve: fiveK }])
    expect(judged(OHMS, { value: 5.4, unit: 'kohm', ...by })).toMatchObject({
      verdict: 'inconclusive',
      outcome: 'inconclusive-no-temperature',
      weights: null,
      asks: 'temperature',
    });
});

test('open and short are bad at any temperature, and without one', () => {
  for (const at of [{}, { atC: 0 }, { atC: 22 }]) {
    expect(judged(OHMS, { value: 'OL', ...at })).toMatchObject({ verdict: 'bad', outcome: 'bad-open' });
    expect(judged(OHMS, { value: 12, unit: 'Mohm', ...at })).toMatchObject({ verdict: 'bad', outcome: 'bad-open' });
    expect(judged(OHMS, { value: 0, unit: 'ohm', ...at })).toMatchObject({ verdict: 'bad', outcome: 'bad-short' });
  }
});

test('read before it settled: wait, it moves nothing', () => {
  const early = { verdict: 'inconclusive', outcome: 'inconclusive-not-settled', weights: null, asks: 'settle' };
  expect(judged(OHMS, { value: 9.6, unit: 'kohm', atC: 0, settledMinutes: 2, sheet })).toMatchObject(early);
  expect(judged(OHMS, { value: 9.6, unit: 'kohm', atC: 0, settledMinutes: 5, sheet })).toMatchObject({
    verdict: 'bad',
  });
});

test('ohms of room temperature in an ice bath: it had not settled, unless it had its minutes', () => {
  expect(judged(OHMS, { value: 5.5, unit: 'kohm', atC: 0, sheet })).toMatchObject({
    verdict: 'inconclusive',
    outcome: 'inconclusive-not-settled',
    asks: 'settle',
  });
  expect(judged(OHMS, { value: 5.5, unit: 'kohm', atC: 0, settledMinutes: 10, sheet })).toMatchObject({
    verdict: 'bad',
    outcome: 'bad-low',
  });
});

test('an assumed room temperature widens the band; ice water is its own thermometer', () => {
  const band = (stated: object): number => {
    const expected = judged(OHMS, { value: 5.4, unit: 'kohm', atC: 22, curve: fiveK, ...stated }).expected as {
      low: number;
      high: number;
    };
    return expected.high / expected.low;
  };
  expect(band({ atAssumed: true })).toBeGreaterThan(1.3);
  expect(band({})).toBeLessThan(1.2);
  expect(band({ atC: 0, atAssumed: true })).toBeLessThan(1.15);
});

test('outside the span of the curve there is no answer, not an invented one', () => {
  for (const atC of [60, -60, -273.15])
    expect(judged(OHMS, { value: 5.4, unit: 'kohm', atC, curve: fiveK })).toMatchObject({
      verdict: 'inconclusive',
      outcome: 'inconclusive-outside-curve',
      expected: null,
      weights: null,
    });
});

test('without sheet and curve the band is wide; bad is only what lies a factor outside', () => {
  const at = (value: number): object => judged(OHMS, { value, unit: 'ohm', atC: 22.8 });
  expect(at(10_000)).toMatchObject({ verdict: 'good', outcome: 'good-wide', against: 'common-practice' });
  expect(at(21_000)).toMatchObject({ verdict: 'inconclusive', outcome: 'inconclusive-wide' });
  expect(at(200_000)).toMatchObject({ verdict: 'bad', outcome: 'bad-high' });
  expect(at(150)).toMatchObject({ verdict: 'bad', outcome: 'bad-low' });
});

test('before and after: open a lot, off its curve a lot, on it against, borderline a little', () => {
  const move = (value: number | 'OL', stated: object = {}): number =>
    odds('defrost-sensor-fault', OHMS, {
      value,
      ...(value === 'OL' ? {} : { unit: 'ohm' as const }),
      atC: 0,
      curve: fiveK,
      settledMinutes: 10,
      ...stated,
    });
  expect(move('OL')).toBeGreaterThan(10);
  expect(move(9_600)).toBeGreaterThan(10);
  expect(move(16_312)).toBeLessThan(0.3);
  expect(move(17_600)).toBeGreaterThan(move(16_312));
  expect(move(17_600)).toBeLessThan(move(19_000));
});

test('the ice reading outweighs a good one at room temperature', () => {
  const warm = { value: 5.4, unit: 'kohm', atC: 22.8, curve: fiveK } as const;
  const ice = { value: 9.6, unit: 'kohm', atC: 0, curve: fiveK, settledMinutes: 10 } as const;
  const good = odds('defrost-sensor-fault', OHMS, warm);
  const both = good * odds('defrost-sensor-fault', OHMS, ice, { readings: [measured(OHMS, warm)] });
  expect(good).toBeGreaterThan(0.3);
  expect(good).toBeLessThan(1);
  expect(both).toBeGreaterThan(5);
});
