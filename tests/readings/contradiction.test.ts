import { expect, test } from 'vitest';
import { judgeAll, type Judged } from '../../src/readings/judge.js';
import { caseOf, forced, knowledge, measured, odds, type Known } from './a-case.js';

function both(
  one: Parameters<typeof measured>,
  other: Parameters<typeof measured>,
  known: Known = {},
): [Judged, Judged] {
  const all = judgeAll(knowledge, caseOf({ ...known, readings: [measured(...one), measured(...other)] }), 'technician');
  return [all[0] as Judged, all[1] as Judged];
}

const asked = { verdict: 'inconclusive', outcome: 'inconclusive-contradicts', weights: null, asks: 'repeat' };
const waits = { verdict: 'inconclusive', outcome: 'inconclusive-contradicted', weights: null, asks: null };

test('a heater that beeps and reads OL: says so, and asks to repeat the beep, which is the cheaper', () => {
  const [ohms, beep] = both(
    ['defrost-heater.resistance', { value: 'OL' }],
    ['defrost-heater.continuity', { value: 'closed' }],
  );
  expect(beep).toMatchObject(asked);
  expect(beep.why).toMatch(/contradicts another reading \(defrost heater, OL\)/i);
  expect(ohms).toMatchObject(waits);
  expect(ohms.why).toMatch(/repeat that one first/i);
});

test('the contradiction moves nothing until it is settled', () => {
  const readings = [measured('defrost-heater.resistance', { value: 'OL' })];
  const first = odds('defrost-heater-open', 'defrost-heater.resistance', { value: 'OL' });
  const second = odds('defrost-heater-open', 'defrost-heater.continuity', { value: 'closed' }, { readings });
  expect(first * second).toBeCloseTo(1, 9);
});

test('a heater that does not beep and reads 28 ohm', () => {
  const [beep, ohms] = both(
    ['defrost-heater.continuity', { value: 'OL' }],
    ['defrost-heater.resistance', { value: 28, unit: 'ohm' }],
  );
  expect(beep).toMatchObject(asked);
  expect(ohms).toMatchObject(waits);
});

test('current through a heater that reads OL', () => {
  const [ohms, amps] = both(
    ['defrost-heater.resistance', { value: 'OL' }],
    ['defrost-heater.current', { value: 3.7, unit: 'A' }],
    forced,
  );
  expect([ohms.asks, amps.asks].filter((a) => a === 'repeat')).toHaveLength(1);
  expect([ohms.verdict, amps.verdict]).toEqual(['inconclusive', 'inconclusive']);
});

test('a thermostat open at -18 degC and closed at -12 degC: of two tests alike the newer is repeated', () => {
  const [open, closed] = both(
    ['defrost-thermostat.continuity', { value: 'open', atC: -18 }],
    ['defrost-thermostat.continuity', { value: 'closed', atC: -12 }],
  );
  expect(open).toMatchObject(waits);
  expect(closed).toMatchObject(asked);
});

test('a thermostat closed at -18 degC and open at 20 degC is sound: no contradiction', () => {
  const [cold, warm] = both(
    ['defrost-thermostat.continuity', { value: 'closed', atC: -18 }],
    ['defrost-thermostat.continuity', { value: 'open', atC: 20 }],
  );
  expect(cold.verdict).toBe('good');
  expect(warm.outcome).toBe('inconclusive-warm');
});

test('volts at the heater while none leave the control, and 0 V at an outlet that feeds something', () => {
  const [, heater] = both(
    ['defrost-output.voltage', { value: 0, unit: 'V' }],
    ['heater-circuit.voltage', { value: 119, unit: 'V' }],
    forced,
  );
  expect(heater.verdict).toBe('inconclusive');
  expect(heater.outcome).toMatch(/contradict/);
  const [outlet] = both(
    ['supply.voltage', { value: 0, unit: 'V' }],
    ['defrost-output.voltage', { value: 119, unit: 'V' }],
    forced,
  );
  expect(outlet).toMatchObject(asked);
});

test('a sensor open in ice that is on its curve at room temperature', () => {
  const curve = 'ntc-5k-b3984';
  const [ice, room] = both(
    ['defrost-sensor.resistance', { value: 'OL', atC: 0 }],
    ['defrost-sensor.resistance', { value: 5.4, unit: 'kohm', atC: 22.8, curve }],
  );
  expect([ice.outcome, room.outcome].sort()).toEqual(['inconclusive-contradicted', 'inconclusive-contradicts']);
});
