// The heat it takes to turn frost to water.

import { within } from './domain.js';
import { ABSOLUTE_ZERO_C } from './units.js';

// At 0 degC; "Thermodynamic and Physical Properties of Water and Ice", appendix I.
const ICE_J_PER_KG_K = 2101;
const FUSION_J_PER_KG = 334e3;

/**
 * Heat in J that warms a mass of frost or ice (kg) from its temperature (degC, at or below 0) to 0 degC and melts it.
 * Ice is taken to need the same heat a kelvin all the way, which at -30 degC is 5 % too much of a small part.
 * @throws RangeError when the mass is negative or the ice is warmer than 0 degC
 */
export function heatToMeltJ(massKg: number, temperatureC: number): number {
  const warming = -ICE_J_PER_KG_K * within('temperatureC', temperatureC, ABSOLUTE_ZERO_C, 0);
  return within('massKg', massKg, 0, 1e6) * (warming + FUSION_J_PER_KG);
}
