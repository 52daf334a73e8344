import { expect, test } from 'vitest';
import { judged, measured, odds } from './a-case.js';

const OHMS = 'defrost-heater.resistance';
const rating = { power: 450, voltage: 120 };

// Ohm's law, P = V^2 / R; power +5 / -10 % of the rating as IEC 60335-1 table 1 has it (from memory).
test.each([
  [300, 48, 45.7, 53.3],
  [350, 41.1, 39.2, 45.7],
  [400, 36, 34.3, 40],
  [450, 32, 30.5, 35.6],
  [500, 28.8, 27.4, 32],
  [600, 24, 22.9, 26.7],
])('a %d W heater on 120 V: %d ohm is good, the band is %d to %d and the meter', (power, nominal, low, high) => {
  const one = judged(OHMS, { value: nominal, unit: 'ohm', rating: { power, voltage: 120 } });
  expect(one).toMatchObject({ verdict: 'good', outcome: 'good', against: 'rating' });
  const expected = one.expected as { low: number; high: number; unit: string };
  expect(expected.unit).toBe('ohm');
  expect(expected.low).toBeLessThan(low);
  expect(expected.low).toBeGreaterThan(low * 0.97);
  expect(expected.high).toBeGreaterThan(high);
  expect(expected.high).toBeLessThan(high * 1.03);
});

test('a reading with 0.3 ohm of leads in it is not called bad (RS PRO IDM 71 manual: leads 0.1 to 0.2 ohm)', () => {
  expect(judged(OHMS, { value: 32.4, unit: 'ohm', rating })).toMatchObject({ verdict: 'good' });
});

test('good, inconclusive and bad in this order as the value leaves the band', () => {
  const verdicts = [34, 35.6, 36.1, 36.6, 37.5, 45].map(
    (value) => judged(OHMS, { value, unit: 'ohm', rating }).verdict,
  );
  expect(verdicts).toEqual(['good', 'good', 'good', 'inconclusive', 'bad', 'bad']);
});

test.each([
  ['OL', 'bad-open'],
  [1.2e6, 'bad-open'],
  [0, 'bad-short'],
  [0.2, 'bad-short'],
] as const)('%s is bad at any rating and without one: %s', (value, outcome) => {
  for (const by of [{}, { rating }]) {
    const unit = value === 'OL' ? {} : ({ unit: 'ohm' } as const);
    expect(judged(OHMS, { value, ...unit, ...by })).toMatchObject({ verdict: 'bad', outcome });
  }
});

test('28.4 ohm on the kilohm range is 28.4 ohm', () => {
  expect(judged(OHMS, { value: 0.0284, unit: 'kohm' })).toMatchObject({
    verdict: 'good',
    measured: { value: 28.4, unit: 'ohm' },
  });
});

test('without a rating the band is wide, and only a factor outside it is bad', () => {
  const supply = measured('supply.voltage', { value: 119, unit: 'V' });
  const verdict = (value: number): string => judged(OHMS, { value, unit: 'ohm' }, { readings: [supply] }).verdict;
  expect(judged(OHMS, { value: 28, unit: 'ohm' })).toMatchObject({ verdict: 'good', against: 'common-practice' });
  expect([24, 50, 70, 300].map(verdict)).toEqual(['good', 'good', 'inconclusive', 'bad']);
});

test('what a sheet says outranks the rating; its tolerance is that of the knowledge folder', () => {
  const sheet = { value: 25, unit: 'ohm' } as const;
  expect(judged(OHMS, { value: 25.5, unit: 'ohm', sheet, rating })).toMatchObject({
    verdict: 'good',
    against: 'sheet',
  });
  expect(judged(OHMS, { value: 32, unit: 'ohm', sheet, rating })).toMatchObject({
    verdict: 'bad',
    outcome: 'bad-high',
  });
});

test('the unit family, and a rating given with an earlier reading, count as what the case knows', () => {
  expect(judged(OHMS, { value: 32, unit: 'ohm' }, { family: 'northpine-2-door' })).toMatchObject({
    verdict: 'good',
    against: 'case',
  });
  expect(judged(OHMS, { value: 60, unit: 'ohm' }, { family: 'northpine-2-door' })).toMatchObject({
    verdict: 'bad',
    against: 'case',
  });
  const earlier = measured('defrost-heater.continuity', { value: 'closed', rating });
  expect(judged(OHMS, { value: 60, unit: 'ohm' }, { readings: [earlier] })).toMatchObject({
    verdict: 'bad',
    against: 'case',
  });
});

// 450 W on 230 V is 117.6 ohm; 32 ohm there is a 120 V heater.
test('a 120 V heater on a 230 V unit is found by the rating, by the family and by the supply', () => {
  const bad = { verdict: 'bad', outcome: 'bad-system' };
  const supply = measured('supply.voltage', { value: 231, unit: 'V' });
  expect(judged(OHMS, { value: 32, unit: 'ohm', rating: { power: 450, voltage: 230 } })).toMatchObject({
    ...bad,
    against: 'rating',
  });
  expect(judged(OHMS, { value: 117.6, unit: 'ohm', rating: { power: 450, voltage: 230 } })).toMatchObject({
    verdict: 'good',
  });
  expect(judged(OHMS, { value: 48, unit: 'ohm' }, { family: 'larkmoor-3-door' })).toMatchObject({
    ...bad,
    against: 'case',
  });
  expect(judged(OHMS, { value: 32, unit: 'ohm' }, { readings: [supply] })).toMatchObject({ ...bad, against: 'case' });
  expect(judged(OHMS, { value: 32, unit: 'ohm', rating }, { readings: [supply] })).toMatchObject({
    ...bad,
    against: 'rating',
  });
  expect(judged(OHMS, { value: 32, unit: 'ohm' }, { readings: [supply] }).why).toMatch(/wrong part/i);
});

test('too few ohms for 230 V, but not by a factor: inconclusive, and the plate is asked for', () => {
  const supply = measured('supply.voltage', { value: 231, unit: 'V' });
  expect(judged(OHMS, { value: 50, unit: 'ohm' }, { readings: [supply] })).toMatchObject({
    verdict: 'inconclusive',
    outcome: 'inconclusive-system',
  });
});

test('an open circuit moves the ranking a lot, sound ohms against it, a borderline value a little', () => {
  const open = odds('defrost-heater-open', OHMS, { value: 'OL' });
  const sound = odds('defrost-heater-open', OHMS, { value: 32, unit: 'ohm', rating });
  const borderline = odds('defrost-heater-open', OHMS, { value: 36.6, unit: 'ohm', rating });
  expect(open).toBeGreaterThan(20);
  expect(sound).toBeLessThan(0.1);
  expect(borderline).toBeGreaterThan(sound);
  expect(borderline).toBeLessThan(2);
});
