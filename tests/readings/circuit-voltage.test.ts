import { expect, test } from 'vitest';
import { forced, judged, measured, odds } from './a-case.js';

const OUTPUT = 'defrost-output.voltage';
const HEATER = 'heater-circuit.voltage';
const FAN = 'evaporator-fan.voltage';
const live = measured(OUTPUT, { value: 119, unit: 'V' });
const dead = measured(OUTPUT, { value: 0, unit: 'V' });
const supply = (value: number): ReturnType<typeof measured> => measured('supply.voltage', { value, unit: 'V' });
const low = { verdict: 'inconclusive', outcome: 'inconclusive-supply', weights: null };

test('volts leaving the control: full is good; none is bad only while a defrost is called', () => {
  expect(judged(OUTPUT, { value: 119, unit: 'V' }, { readings: [supply(120)] })).toMatchObject({
    verdict: 'good',
    against: 'case',
  });
  expect(judged(OUTPUT, { value: 0, unit: 'V' })).toMatchObject({ outcome: 'inconclusive-not-called', weights: null });
  expect(judged(OUTPUT, { value: 0, unit: 'V' }, forced)).toMatchObject({ verdict: 'bad', outcome: 'bad-absent' });
  expect(judged(OUTPUT, { value: 80, unit: 'V' }, { ...forced, readings: [supply(120)] })).toMatchObject({
    verdict: 'bad',
    outcome: 'bad-low',
  });
});

test('a shaft turned into defrost where nothing changes does call for it: its contacts are what is tested', () => {
  const turned = { found: { 'timer.forced-defrost': 'nothing-changes' } };
  expect(judged(OUTPUT, { value: 0, unit: 'V' }, turned)).toMatchObject({ verdict: 'bad', outcome: 'bad-absent' });
});

test('a voltage at the heater means nothing without the one leaving the control', () => {
  for (const value of [0, 119]) {
    const one = judged(HEATER, { value, unit: 'V' });
    expect(one).toMatchObject({ verdict: 'inconclusive', outcome: 'inconclusive-upstream', weights: null });
    expect(odds('defrost-wiring-open', HEATER, { value, unit: 'V' })).toBe(1);
  }
  const dayOld = { ...live, at: '2026-11-24T10:00:00Z' };
  expect(judged(HEATER, { value: 0, unit: 'V' }, { readings: [dayOld] })).toMatchObject({
    outcome: 'inconclusive-upstream',
  });
  expect(judged(HEATER, { value: 0, unit: 'V' }, { readings: [dead] })).toMatchObject({
    outcome: 'inconclusive-output-absent',
  });
});

test('with volts leaving: full is good, none is bad', () => {
  expect(judged(HEATER, { value: 118, unit: 'V' }, { readings: [live] })).toMatchObject({ verdict: 'good' });
  expect(judged(HEATER, { value: 0, unit: 'V' }, { readings: [live] })).toMatchObject({
    verdict: 'bad',
    outcome: 'bad-absent',
  });
  expect(judged(HEATER, { value: 75, unit: 'V' }, { readings: [supply(120), live] })).toMatchObject({
    verdict: 'bad',
    outcome: 'bad-low',
  });
});

test('0 V at a good heater behind an open thermostat is normal, and so it is after a thaw', () => {
  const open = measured('defrost-thermostat.continuity', { value: 'open', atC: 20 });
  expect(judged(HEATER, { value: 0, unit: 'V' }, { readings: [live, open] })).toMatchObject({
    verdict: 'inconclusive',
    outcome: 'inconclusive-thermostat-open',
    weights: null,
  });
  const known = { readings: [live], found: { 'unit.thawed-recently': 'under-a-day' } };
  expect(judged(HEATER, { value: 0, unit: 'V' }, known)).toMatchObject({ outcome: 'inconclusive-warm', weights: null });
});

test('full voltage across an open heater is normal: it is good for the circuit', () => {
  const readings = [live, measured('defrost-heater.resistance', { value: 'OL' })];
  expect(judged(HEATER, { value: 119, unit: 'V' }, { readings })).toMatchObject({ verdict: 'good' });
});

test.each([108, 104, 90])('no repair verdict under power with %d V at the outlet', (volts) => {
  const known = { ...forced, readings: [supply(volts), live] };
  for (const [step, value] of [
    [OUTPUT, 0],
    [HEATER, 0],
    [HEATER, volts],
    [FAN, 0],
    [FAN, volts],
  ] as const) {
    const others = { ...known, readings: step === OUTPUT ? [supply(volts)] : known.readings };
    expect(judged(step, { value, unit: 'V' }, others)).toMatchObject(low);
  }
});

test('a fan on an electronic control may be fed about 12 V DC; on a timer that is low', () => {
  const electronic = { found: { 'unit.defrost-control': 'electronic-control' } };
  const timer = { found: { 'unit.defrost-control': 'mechanical-timer' }, readings: [supply(120)] };
  expect(judged(FAN, { value: 12.3, unit: 'V' }, electronic)).toMatchObject({ verdict: 'good' });
  expect(judged(FAN, { value: 117, unit: 'V' }, electronic)).toMatchObject({ verdict: 'good' });
  expect(judged(FAN, { value: 0, unit: 'V' }, electronic)).toMatchObject({ verdict: 'bad', outcome: 'bad-absent' });
  expect(judged(FAN, { value: 12.3, unit: 'V' }, timer).verdict).toBe('bad');
  expect(judged(FAN, { value: 12.3, unit: 'V' })).toMatchObject({ outcome: 'inconclusive-system', weights: null });
  expect(judged(FAN, { value: -12.3, unit: 'V' }, electronic)).toMatchObject({
    verdict: 'good',
    measured: { value: 12.3 },
  });
});

test('no volts at the fan while the compressor rests is normal', () => {
  for (const running of ['never', 'clicks-off'])
    expect(judged(FAN, { value: 0, unit: 'V' }, { found: { 'compressor.running': running } })).toMatchObject({
      outcome: 'inconclusive-not-called',
      weights: null,
    });
  expect(judged(FAN, { value: 0, unit: 'V' })).toMatchObject({ verdict: 'bad', outcome: 'bad-absent' });
});

test('before and after: none leaving, none arriving, none at the fan', () => {
  expect(odds('defrost-timer-contacts', OUTPUT, { value: 0, unit: 'V' }, forced)).toBeGreaterThan(8);
  expect(odds('defrost-timer-contacts', OUTPUT, { value: 119, unit: 'V' }, forced)).toBeLessThan(0.2);
  expect(odds('defrost-wiring-open', HEATER, { value: 0, unit: 'V' }, { readings: [live] })).toBeGreaterThan(4);
  expect(odds('defrost-wiring-open', HEATER, { value: 119, unit: 'V' }, { readings: [live] })).toBeLessThan(0.2);
  expect(odds('door-switch-fault', FAN, { value: 0, unit: 'V' })).toBeGreaterThan(5);
  expect(odds('door-switch-fault', FAN, { value: 119, unit: 'V' })).toBeLessThan(0.2);
});
