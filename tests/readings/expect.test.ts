import { expect, test } from 'vitest';
import { expectation } from '../../src/readings/expect.js';
import { caseOf, judged, knowledge, measured } from './a-case.js';

type Range = { low: number; high: number; unit: string };

// 450 W at 120 V is 32.0 ohm and 3.75 A (Ohm's law); +5 / -10 % of power is 30.5 to 35.6 ohm.
test('what should a 450 W heater read?', () => {
  const ohms = expectation(knowledge, 'defrost-heater', 'resistance', { rating: { power: 450, voltage: 120 } });
  expect(ohms).toMatchObject({ against: 'rating', expected: { unit: 'ohm' } });
  const { low, high } = ohms.expected as Range;
  expect(low).toBeGreaterThan(29.5);
  expect(low).toBeLessThan(30.5);
  expect(high).toBeGreaterThan(35.6);
  expect(high).toBeLessThan(36.6);
  expect(ohms.why).toMatch(/Ω to .*Ω/);
  const amps = expectation(knowledge, 'defrost-heater', 'current', { rating: { power: 450, voltage: 120 } })
    .expected as Range;
  expect(amps.low).toBeLessThan(3.75);
  expect(amps.high).toBeGreaterThan(3.75);
});

// Vishay 29094: 15,884 to 16,740 ohm at 0 degC.
test('a sensor needs its temperature', () => {
  expect(expectation(knowledge, 'defrost-sensor', 'resistance', { curve: 'ntc-5k-b3984' })).toMatchObject({
    expected: null,
    against: 'curve',
  });
  const ice = expectation(knowledge, 'defrost-sensor', 'resistance', { curve: 'ntc-5k-b3984', atC: 0 }, 'homeowner');
  const { low, high } = ice.expected as Range;
  expect(low).toBeGreaterThan(15_884 * 0.96);
  expect(low).toBeLessThan(15_884);
  expect(high).toBeLessThan(16_740 * 1.04);
  expect(high).toBeGreaterThan(16_740);
  expect(ice.why).toContain('32 °F');
});

test('a thermostat by its temperature, and cold where none is said', () => {
  const at = (atC: number | null, rating: { opensC: number; differentialC: number } | null = null): unknown =>
    expectation(knowledge, 'defrost-thermostat', 'continuity', { atC, rating }).expected;
  const rating = { opensC: 12.8, differentialC: 16.7 };
  expect([at(null), at(-18), at(20), at(25, rating), at(5, rating)]).toEqual(
    ['closed', 'closed', 'either', 'open', 'either'].map((state) => ({ state })),
  );
});

test('the outlet, with and without a plate', () => {
  expect(expectation(knowledge, 'supply', 'voltage', { rating: { voltage: 230 } }).expected).toMatchObject({
    unit: 'V',
  });
  expect(expectation(knowledge, 'supply', 'voltage').why).toMatch(/120 V/);
});

test('a case, where there is one, is counted: the outlet of 231 V makes it the heater of a 230 V unit', () => {
  const state = caseOf({ readings: [measured('supply.voltage', { value: 231, unit: 'V' })] });
  const { low } = expectation(knowledge, 'defrost-heater', 'resistance', {}, 'technician', state).expected as Range;
  expect(low).toBeGreaterThan(75);
});

test('every reading of the knowledge folder has something to expect, in both words, and it is what the judge says too', () => {
  for (const { part, quantity, id } of knowledge.readings.values())
    for (const words of ['homeowner', 'technician'] as const) {
      const { why, expected, against } = expectation(knowledge, part, quantity, { atC: -18 }, words);
      expect(why, id).not.toMatch(/[{}]|undefined|NaN|\s{2}/);
      expect(why.length, id).toBeGreaterThan(10);
      if (quantity !== 'continuity') continue;
      expect(judged(id, { value: 'closed', atC: -18 })).toMatchObject({ expected, against });
    }
});
