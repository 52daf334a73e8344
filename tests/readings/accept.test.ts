import { expect, test } from 'vitest';
import type { ReadingIn } from '../../src/message/incoming.js';
import { accept } from '../../src/readings/accept.js';
import { knowledge } from './a-case.js';

const heater = { part: 'defrost-heater', quantity: 'resistance' } as const;
const sensor = { part: 'defrost-sensor', quantity: 'resistance' } as const;
const bimetal = { part: 'defrost-thermostat', quantity: 'continuity' } as const;

test.each<[string, ReadingIn, string]>([
  ['an unknown part', { ...heater, part: 'ice-crusher', value: 1, unit: 'ohm' }, 'reading.part'],
  [
    'a quantity the part is not measured in',
    { ...heater, quantity: 'voltage', value: 1, unit: 'V' },
    'reading.quantity',
  ],
  ['a unit of another quantity', { ...heater, value: 5, unit: 'V' }, 'reading.unit'],
  ['a missing unit', { ...heater, value: 5 }, 'reading.unit'],
  ['a unit for continuity', { ...bimetal, value: 'closed', unit: 'ohm' }, 'reading.unit'],
  ['ohms for continuity', { ...bimetal, value: 0.2, unit: 'ohm' }, 'reading.value'],
  ['closed for a resistance', { ...heater, value: 'closed' }, 'reading.value'],
  ['over-limit volts', { part: 'supply', quantity: 'voltage', value: 'OL', unit: 'V' }, 'reading.value'],
  ['over-limit with volts', { ...heater, value: 'OL', unit: 'V' }, 'reading.unit'],
  ['negative ohms', { ...heater, value: -5, unit: 'ohm' }, 'reading.value'],
  ['not a number', { ...heater, value: NaN, unit: 'ohm' }, 'reading.value'],
  ['infinity', { ...heater, value: Infinity, unit: 'ohm' }, 'reading.value'],
  ['more ohms than any meter shows', { ...heater, value: 1e300, unit: 'Mohm' }, 'reading.value'],
  ['below absolute zero', { part: 'freezer', quantity: 'temperature', value: -500, unit: 'degF' }, 'reading.value'],
  ['below 0 K', { part: 'freezer', quantity: 'temperature', value: -1, unit: 'K' }, 'reading.value'],
  ['a humidity above 100', { part: 'room', quantity: 'relative-humidity', value: 101, unit: '%' }, 'reading.value'],
  ['a humidity below 0', { part: 'room', quantity: 'relative-humidity', value: -1, unit: '%' }, 'reading.value'],
  ['a negative thickness', { part: 'frost', quantity: 'thickness', value: -1, unit: 'mm' }, 'reading.value'],
  ['a part below absolute zero', { ...sensor, value: 5, unit: 'kohm', atC: -300 }, 'reading.atC'],
  ['a temperature that is no number', { ...sensor, value: 5, unit: 'kohm', atC: NaN }, 'reading.atC'],
  ['negative minutes', { ...sensor, value: 5, unit: 'kohm', settledMinutes: -1 }, 'reading.settledMinutes'],
  [
    "a sheet in another quantity's unit",
    { ...sensor, value: 5, unit: 'kohm', sheet: { value: 5, unit: 'V', atC: 25 } },
    'reading.sheet.unit',
  ],
  [
    'a sheet of nothing',
    { ...sensor, value: 5, unit: 'kohm', sheet: { value: 0, unit: 'kohm', atC: 25 } },
    'reading.sheet.value',
  ],
  [
    "a sensor's sheet without its temperature",
    { ...sensor, value: 5, unit: 'kohm', sheet: { value: 5, unit: 'kohm' } },
    'reading.sheet.atC',
  ],
  ['a sheet for a contact', { ...bimetal, value: 'closed', sheet: { value: 1, unit: 'ohm' } }, 'reading.sheet'],
  [
    "a heater's rating on a thermostat",
    { ...bimetal, value: 'closed', rating: { power: 450, voltage: 120 } },
    'reading.rating',
  ],
  ['volts alone for a heater', { ...heater, value: 32, unit: 'ohm', rating: { voltage: 120 } }, 'reading.rating'],
  ['a rating for a sensor', { ...sensor, value: 5, unit: 'kohm', rating: { voltage: 120 } }, 'reading.rating'],
  [
    'an impossible power',
    { ...heater, value: 32, unit: 'ohm', rating: { power: 1e9, voltage: 120 } },
    'reading.rating.power',
  ],
  [
    'an impossible opening temperature',
    { ...bimetal, value: 'open', rating: { opensC: 900, differentialC: 20 } },
    'reading.rating.opensC',
  ],
  ['an unknown curve', { ...sensor, value: 5, unit: 'kohm', curve: 'ntc-1' }, 'reading.curve'],
  ['a curve for a heater', { ...heater, value: 32, unit: 'ohm', curve: 'ntc-5k-b3984' }, 'reading.curve'],
])('%s is refused by its field', (_, stated, field) => {
  const result = accept(knowledge, stated);
  expect(result).toMatchObject({ ok: false, field });
  expect((result as { message: string }).message.length).toBeGreaterThan(10);
});

test.each<[ReadingIn, number | string, string | null]>([
  [{ ...sensor, value: 5.4, unit: 'kohm' }, 5400, 'ohm'],
  [{ ...heater, value: 0.0284, unit: 'kohm' }, 28.4, 'ohm'],
  [{ ...heater, value: 'OL' }, 'OL', 'ohm'],
  [{ ...heater, value: 'OL', unit: 'kohm' }, 'OL', 'ohm'],
  [{ ...bimetal, value: 'OL' }, 'OL', null],
  [{ part: 'defrost-heater', quantity: 'current', value: 3700, unit: 'mA' }, 3.7, 'A'],
  [{ part: 'defrost-heater', quantity: 'current', value: -3.7, unit: 'A' }, 3.7, 'A'],
  [{ part: 'evaporator-fan', quantity: 'voltage', value: -12, unit: 'V' }, 12, 'V'],
  [{ part: 'freezer', quantity: 'temperature', value: -40, unit: 'degF' }, -40, 'degC'],
  [{ part: 'freezer', quantity: 'temperature', value: 0, unit: 'K' }, -273.15, 'degC'],
  [{ part: 'frost', quantity: 'thickness', value: 0.5, unit: 'in' }, 0.0127, 'm'],
  [{ part: 'room', quantity: 'relative-humidity', value: 0, unit: '%' }, 0, '%'],
])('%o is kept in SI', (stated, value, unit) => {
  expect(accept(knowledge, stated)).toMatchObject({ ok: true, measurement: { value, unit, atAssumed: false } });
});

test('what it is judged against is kept in SI too', () => {
  const stated = {
    ...sensor,
    value: 5.4,
    unit: 'kohm',
    atC: 22.8,
    sheet: { value: 5.4, unit: 'kohm', atC: 22.8 },
    curve: 'ntc-5k-b3984',
  } as const;
  expect(accept(knowledge, stated, true)).toMatchObject({
    ok: true,
    measurement: { sheet: { value: 5400, unit: 'ohm', atC: 22.8 }, curve: 'ntc-5k-b3984', atAssumed: true },
  });
});

test('no temperature, nothing assumed', () => {
  expect(accept(knowledge, { ...heater, value: 32, unit: 'ohm' }, true)).toMatchObject({
    measurement: { atC: null, atAssumed: false },
  });
});
