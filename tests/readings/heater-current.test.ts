import { expect, test } from 'vitest';
import { forced, judged, measured, odds } from './a-case.js';

const AMPS = 'defrost-heater.current';
const rating = { power: 450, voltage: 120 };

// 450 W / 120 V = 3.75 A; 600 W 5.00 A (Ohm's law).
test.each([
  [450, 3.75],
  [300, 2.5],
  [600, 5],
])('a %d W heater on 120 V draws %d A', (power, value) => {
  expect(judged(AMPS, { value, unit: 'A', rating: { power, voltage: 120 } })).toMatchObject({
    verdict: 'good',
    against: 'rating',
  });
});

test('the measured supply makes the band narrower: 3.2 A is low at 119 V', () => {
  const readings = [measured('supply.voltage', { value: 119, unit: 'V' })];
  expect(judged(AMPS, { value: 3.7, unit: 'A', rating }, { readings })).toMatchObject({ verdict: 'good' });
  expect(judged(AMPS, { value: 2.4, unit: 'A', rating }, { readings })).toMatchObject({
    verdict: 'bad',
    outcome: 'bad-low',
  });
  expect(judged(AMPS, { value: 7.4, unit: 'A', rating }, { readings })).toMatchObject({
    verdict: 'bad',
    outcome: 'bad-high',
  });
});

test('0 A without a defrost called for is inconclusive and moves nothing', () => {
  const one = judged(AMPS, { value: 0, unit: 'A' });
  expect(one).toMatchObject({ verdict: 'inconclusive', outcome: 'inconclusive-not-called', weights: null });
  expect(odds('defrost-heater-open', AMPS, { value: 0, unit: 'A' })).toBe(1);
});

test('0 A in a defrost that was forced just now is bad; hours later, or where nothing changed, it means nothing', () => {
  expect(judged(AMPS, { value: 0, unit: 'A' }, forced)).toMatchObject({ verdict: 'bad', outcome: 'bad-none' });
  expect(judged(AMPS, { value: 0, unit: 'A' }, { found: { 'control.forced-defrost': 'heater-cold' } })).toMatchObject({
    verdict: 'bad',
  });
  const hoursAgo = { ...forced, foundAt: '2026-11-25T06:00:00Z' };
  expect(judged(AMPS, { value: 0, unit: 'A' }, hoursAgo)).toMatchObject({ outcome: 'inconclusive-not-called' });
  const nothing = { found: { 'timer.forced-defrost': 'nothing-changes' } };
  expect(judged(AMPS, { value: 0, unit: 'A' }, nothing)).toMatchObject({ outcome: 'inconclusive-not-called' });
});

test('volts leaving the control say as well that a defrost is on', () => {
  const readings = [measured('defrost-output.voltage', { value: 119, unit: 'V' })];
  expect(judged(AMPS, { value: 0, unit: 'A' }, { readings })).toMatchObject({ verdict: 'bad', outcome: 'bad-none' });
});

test('thawed within the day: 0 A is right and moves nothing', () => {
  const known = { found: { ...forced.found, 'unit.thawed-recently': 'under-a-day' } };
  expect(judged(AMPS, { value: 0, unit: 'A' }, known)).toMatchObject({ outcome: 'inconclusive-warm', weights: null });
});

test.each([
  [108, [0, 3]],
  [103, [0, 3]],
  [0, [0]],
])('no repair verdict from amps with %d V at the outlet', (volts, amps) => {
  const readings = [measured('supply.voltage', { value: volts, unit: 'V' })];
  for (const value of amps)
    expect(judged(AMPS, { value, unit: 'A' }, { ...forced, readings })).toMatchObject({
      outcome: 'inconclusive-supply',
      weights: null,
    });
});

test('before and after: no current in a called defrost raises the open circuits, current lowers them', () => {
  for (const fault of ['defrost-heater-open', 'defrost-thermostat-open', 'defrost-wiring-open']) {
    expect(odds(fault, AMPS, { value: 0, unit: 'A' }, forced)).toBeGreaterThan(3);
    expect(odds(fault, AMPS, { value: 3.7, unit: 'A', rating }, forced)).toBeLessThan(0.3);
  }
});
