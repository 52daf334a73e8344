import { expect, test } from 'vitest';
import { judged, odds } from './a-case.js';

const AIR = 'room.relative-humidity';

// Common practice, no source: ordinary up to 60 %.
test.each([
  [45, 'good', 'good'],
  [63, 'good', 'good'],
  [72, 'inconclusive', 'inconclusive-humid'],
  [100, 'inconclusive', 'inconclusive-humid'],
  [8, 'inconclusive', 'inconclusive-dry'],
])('%d %% is %s: a circumstance is never bad', (value, verdict, outcome) => {
  expect(judged(AIR, { value, unit: '%' })).toMatchObject({ verdict, outcome });
});

test('before and after: damp air raises moisture-load, the more the damper; dry air lowers it', () => {
  const move = (value: number): number => odds('moisture-load', AIR, { value, unit: '%' });
  expect(move(80)).toBeGreaterThan(1.8);
  expect(move(62)).toBeLessThan(move(80));
  expect(move(40)).toBeLessThan(1);
});
