import { expect, test } from 'vitest';
import { supplySystem, type SupplySystem } from '../../src/physics/supply.js';

// 120 V: ANSI C84.1, range B, from memory. 230 V: IEC 60038, +-10 %.
const v120: SupplySystem = { nominalV: 120, tolerable: { lowV: 110, highV: 127 } };
const v230: SupplySystem = { nominalV: 230, tolerable: { lowV: 207, highV: 253 } };
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
