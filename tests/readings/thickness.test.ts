import { expect, test } from 'vitest';
import { judged, odds } from './a-case.js';

const FROST = 'frost.thickness';

// Common practice, no source: a quarter inch (6 mm) is when a freezer is due for a thaw.
test.each([
  [3, 'mm', 'good'],
  [0, 'mm', 'good'],
  [0.25, 'in', 'good'],
  [2, 'cm', 'inconclusive'],
  [1, 'in', 'inconclusive'],
] as const)('%d %s is %s: a circumstance is never bad', (value, unit, verdict) => {
  expect(judged(FROST, { value, unit })).toMatchObject({ verdict, measured: { unit: 'm' } });
});

test('in the units of the person', () => {
  expect(judged(FROST, { value: 20, unit: 'mm' }, { units: 'si' }).why).toContain('20 mm');
  expect(judged(FROST, { value: 20, unit: 'mm' }, { units: 'us' }).why).toContain('0.79 in');
});

test('before and after: heavy frost raises the defrost faults a little, a light coat lowers them', () => {
  expect(odds('defrost-heater-open', FROST, { value: 20, unit: 'mm' })).toBeGreaterThan(1.1);
  expect(odds('defrost-heater-open', FROST, { value: 20, unit: 'mm' })).toBeLessThan(4);
  expect(odds('defrost-heater-open', FROST, { value: 1, unit: 'mm' })).toBeLessThan(0.8);
});
