import { expect, test } from 'vitest';
import { supplyState, supplySystem, type SupplySystem } from '../../src/physics/supply.js';

// 120 V: ANSI C84.1, range A as in Maryland COMAR 20.50.07.02, range B from memory. 230 V: IEC 60038, +-10 %.
// Absent below 50 V: common practice, no source.
const v120: SupplySystem = {
  nominalV: 120,
  usual: { lowV: 114, highV: 126 },
  tolerable: { lowV: 110, highV: 127 },
  absentBelowV: 50,
};
const v230: SupplySystem = {
  nominalV: 230,
  usual: { lowV: 207, highV: 253 },
  tolerable: { lowV: 207, highV: 253 },
  absentBelowV: 50,
};
const systems = [v120, v230];

test.each([
  [110, 120],
  [115, 120],
  [127, 120],
  [220, 230],
  [240, 230],
])('a plate that says %d V belongs to the %d V system', (rated, nominal) => {
  expect(supplySystem(rated, systems)?.nominalV).toBe(nominal);
});

test('a plate of neither system belongs to none', () => {
  expect(supplySystem(100, systems)).toBeUndefined();
  expect(supplySystem(160, systems)).toBeUndefined();
  expect(() => supplySystem(NaN, systems)).toThrow(RangeError);
});

test('where a measured voltage lies; both limits still count as in range', () => {
  expect(supplyState(118, v120, 'usual')).toBe('in-range');
  expect(supplyState(114, v120, 'usual')).toBe('in-range');
  expect(supplyState(126, v120, 'usual')).toBe('in-range');
  expect(supplyState(113.9, v120, 'usual')).toBe('low');
  expect(supplyState(112, v120, 'tolerable')).toBe('in-range');
  expect(supplyState(108, v120, 'tolerable')).toBe('low');
  expect(supplyState(127.5, v120, 'tolerable')).toBe('high');
  expect(supplyState(0, v120, 'usual')).toBe('absent');
  expect(supplyState(31, v120, 'usual')).toBe('absent');
  expect(supplyState(195.5, v230, 'usual')).toBe('low'); // EN 50160's -15 % is outside IEC 60038's -10 %
  expect(supplyState(120, v230, 'usual')).toBe('low');
  expect(supplyState(-118, v120, 'usual')).toBe('in-range');
  expect(() => supplyState(Infinity, v120, 'usual')).toThrow(RangeError);
});
