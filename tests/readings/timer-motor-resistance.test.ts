import { expect, test } from 'vitest';
import { judged, measured, odds } from './a-case.js';

const OHMS = 'timer-motor.resistance';

// Common practice, no source: 2 to 3 kilohm is usual on 120 V.
test.each([1_970, 2_300, 3_050])('%d ohm is good, and does not clear the timer', (value) => {
  const one = judged(OHMS, { value, unit: 'ohm' });
  expect(one).toMatchObject({ verdict: 'good', against: 'common-practice' });
  expect(one.why).toMatch(/does not clear the timer/);
});

test('open, megohms and short are bad', () => {
  expect(judged(OHMS, { value: 'OL' })).toMatchObject({ verdict: 'bad', outcome: 'bad-open' });
  expect(judged(OHMS, { value: 3, unit: 'Mohm' })).toMatchObject({ verdict: 'bad', outcome: 'bad-open' });
  expect(judged(OHMS, { value: 0, unit: 'ohm' })).toMatchObject({ verdict: 'bad', outcome: 'bad-short' });
});

test('a motor of the other mains system is asked about, one far outside both is bad', () => {
  const readings = [measured('supply.voltage', { value: 119, unit: 'V' })];
  expect(judged(OHMS, { value: 25, unit: 'kohm' }, { readings })).toMatchObject({
    verdict: 'inconclusive',
    outcome: 'inconclusive-system',
  });
  expect(judged(OHMS, { value: 150, unit: 'kohm' }, { readings })).toMatchObject({
    verdict: 'bad',
    outcome: 'bad-high',
  });
  expect(judged(OHMS, { value: 100, unit: 'ohm' }, { readings })).toMatchObject({ verdict: 'bad', outcome: 'bad-low' });
});

test("a sheet's value with its tolerance", () => {
  const sheet = { value: 2.5, unit: 'kohm' } as const;
  expect(judged(OHMS, { value: 2.6, unit: 'kohm', sheet })).toMatchObject({ verdict: 'good', against: 'sheet' });
  expect(judged(OHMS, { value: 4, unit: 'kohm', sheet })).toMatchObject({ verdict: 'bad', outcome: 'bad-high' });
});

test('before and after: open raises the motor a lot, a good winding lowers it a little', () => {
  expect(odds('defrost-timer-motor', OHMS, { value: 'OL' })).toBeGreaterThan(10);
  const good = odds('defrost-timer-motor', OHMS, { value: 2.5, unit: 'kohm' });
  expect(good).toBeLessThan(1);
  expect(good).toBeGreaterThan(0.4);
});
