import { expect, test } from 'vitest';
import { judged, odds } from './a-case.js';

const VOLTS = 'supply.voltage';

// 114 to 126 V: ANSI C84.1 range A, as in Maryland COMAR 20.50.07.02; 110 to 127 V range B, from memory. 207 to 253 V:
// IEC 60038. A meter of 0.7 % and two counts: electrical-contractor.net, quoting a specification.
test.each([
  [118, 'good', 'good'],
  [114, 'good', 'good'],
  [126, 'good', 'good'],
  [110, 'good', 'good'],
  [108.5, 'inconclusive', 'inconclusive-band'],
  [108, 'bad', 'bad-low'],
  [103, 'bad', 'bad-low'],
  [131, 'bad', 'bad-high'],
  [207, 'good', 'good'],
  [230, 'good', 'good'],
  [253, 'good', 'good'],
  [199, 'bad', 'bad-low'],
  [262, 'bad', 'bad-high'],
  [0, 'bad', 'bad-absent'],
  [12, 'bad', 'bad-absent'],
  [165, 'inconclusive', 'inconclusive-system'],
])('%d V at the outlet is %s: %s', (value, verdict, outcome) => {
  expect(judged(VOLTS, { value, unit: 'V' })).toMatchObject({ verdict, outcome, against: 'common-practice' });
});

test('the plate decides the system: 120 V on a 230 V unit is low', () => {
  expect(judged(VOLTS, { value: 120, unit: 'V', rating: { voltage: 230 } })).toMatchObject({
    verdict: 'bad',
    against: 'rating',
  });
  expect(judged(VOLTS, { value: 120, unit: 'V' }, { family: 'larkmoor-3-door' })).toMatchObject({
    verdict: 'bad',
    against: 'case',
  });
  expect(judged(VOLTS, { value: 118, unit: 'V', rating: { voltage: 115 } })).toMatchObject({
    verdict: 'good',
    against: 'rating',
  });
});

test('before and after: low and absent raise the supply, in range lowers it, the edge a little', () => {
  const move = (value: number): number => odds('supply-out-of-range', VOLTS, { value, unit: 'V' });
  expect(move(103)).toBeGreaterThan(20);
  expect(move(0)).toBeGreaterThan(3);
  expect(move(120)).toBeLessThan(0.1);
  expect(move(109.8)).toBeGreaterThan(move(120));
  expect(move(109.8)).toBeLessThan(move(103));
});
