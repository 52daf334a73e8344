import { expect, test } from 'vitest';
import { judged, odds } from './a-case.js';

const FREEZER = 'freezer.temperature';
const FRIDGE = 'fresh-food.temperature';
const COIL = 'evaporator.temperature';
const ROOM = 'room.temperature';

// ASHRAE Handbook - Refrigeration 2010, chapter 17: freezer near -18 to -15 degC and always colder than -13 degC in
// steady running, fresh food 0 to 4 degC. USDA: 0 F (-18 degC) and 40 F (4.4 degC).
test.each([
  [FREEZER, -18, 'good', 'good'],
  [FREEZER, -15, 'good', 'good'],
  [FREEZER, -13.5, 'inconclusive', 'inconclusive-band'],
  [FREEZER, -9, 'bad', 'bad-warm'],
  [FREEZER, 3, 'bad', 'bad-thawing'],
  [FREEZER, -31, 'bad', 'bad-cold'],
  [FRIDGE, 4, 'good', 'good'],
  [FRIDGE, 0, 'good', 'good'],
  [FRIDGE, 5.8, 'inconclusive', 'inconclusive-band'],
  [FRIDGE, 11, 'bad', 'bad-warm'],
  [FRIDGE, -4, 'bad', 'bad-cold'],
  [COIL, -25, 'good', 'good'],
  [COIL, -5, 'bad', 'bad-warm'],
  [ROOM, 21, 'good', 'good'],
  [ROOM, 5, 'inconclusive', 'inconclusive-cold'],
  [ROOM, 38, 'inconclusive', 'inconclusive-hot'],
] as const)('%s of %d degC is %s: %s', (step, value, verdict, outcome) => {
  expect(judged(step, { value, unit: 'degC' })).toMatchObject({ verdict, outcome, against: 'common-practice' });
});

test('Fahrenheit and kelvin are the same temperature', () => {
  expect(judged(FREEZER, { value: 0, unit: 'degF' })).toMatchObject({ verdict: 'good', measured: { unit: 'degC' } });
  expect(judged(FREEZER, { value: 255.15, unit: 'K' })).toMatchObject({ verdict: 'good', measured: { value: -18 } });
});

test('a compartment within a day of a thaw tells nothing, the room still does', () => {
  const known = { found: { 'unit.thawed-recently': 'under-a-day' } };
  for (const step of [FREEZER, FRIDGE, COIL])
    expect(judged(step, { value: 5, unit: 'degC' }, known)).toMatchObject({
      outcome: 'inconclusive-thawed',
      weights: null,
    });
  expect(judged(ROOM, { value: 5, unit: 'degC' }, known).weights).not.toBeNull();
});

test('before and after', () => {
  expect(odds('cold-control-fault', FREEZER, { value: -31, unit: 'degC' })).toBeGreaterThan(8);
  expect(odds('sealed-restriction', FREEZER, { value: 3, unit: 'degC' })).toBeGreaterThan(2);
  expect(odds('sealed-restriction', FREEZER, { value: -18, unit: 'degC' })).toBeLessThan(0.3);
  expect(odds('air-damper-stuck', FRIDGE, { value: -3, unit: 'degC' })).toBeGreaterThan(5);
  expect(odds('sealed-undercharge', COIL, { value: -5, unit: 'degC' })).toBeGreaterThan(3);
  expect(odds('room-too-cold', ROOM, { value: 4, unit: 'degC' })).toBeGreaterThan(8);
  expect(odds('room-too-cold', ROOM, { value: 21, unit: 'degC' })).toBeLessThan(0.2);
});

test('warmer is never less thawed: the weight of the last state does not fall beyond its range', () => {
  const thawing = (value: number): number => judged(FREEZER, { value, unit: 'degC' }).weights?.[2] ?? 0;
  expect(thawing(10)).toBe(1);
  expect(thawing(40)).toBe(1);
});
