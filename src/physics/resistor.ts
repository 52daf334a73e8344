// A heater as a resistor: what its rating says it should measure, and what it does on another voltage.
// P = V^2 / R and I = V / R (Ohm's law; the element is taken as purely resistive and its ohms as the same hot and cold).

import { positive, within } from './domain.js';

/**
 * Resistance in ohm of a heater rated in W at a voltage in V: V^2 / P.
 * @throws RangeError when either is not positive
 */
export function ratedResistanceOhm(powerW: number, voltageV: number): number {
  return positive('voltageV', voltageV) ** 2 / positive('powerW', powerW);
}

/** How far the power of a good heater may be from its rating, as fractions: less by `under`, more by `over`. */
export interface PowerTolerance {
  readonly under: number;
  readonly over: number;
}

/**
 * The band in ohm of a good heater. More power is less resistance, so `over` gives the low end.
 * @throws RangeError when rating is not positive or a fraction not from 0 to 0.9
 */
export function ratedBandOhm(
  powerW: number,
  voltageV: number,
  tolerance: PowerTolerance,
): { lowOhm: number; highOhm: number } {
  const nominal = ratedResistanceOhm(powerW, voltageV);
  return {
    lowOhm: nominal / (1 + within('over', tolerance.over, 0, 0.9)),
    highOhm: nominal / (1 - within('under', tolerance.under, 0, 0.9)),
  };
}

/**
 * Current in A that a resistance draws at a voltage.
 * @throws RangeError when the resistance is not positive or the voltage negative
 */
export function drawnCurrentA(resistanceOhm: number, voltageV: number): number {
  return within('voltageV', voltageV, 0, Infinity) / positive('resistanceOhm', resistanceOhm);
}

/**
 * Power in W that a resistance turns into heat at a voltage.
 * @throws RangeError when the resistance is not positive or the voltage negative
 */
export function drawnPowerW(resistanceOhm: number, voltageV: number): number {
  return drawnCurrentA(resistanceOhm, voltageV) * voltageV;
}

/**
 * What is left of a measured resistance without the meter leads, in ohm; never below zero, since leads held together
 * again seldom read the same to the last digit.
 * @throws RangeError when either is negative
 */
export function withoutLeadsOhm(measuredOhm: number, leadsOhm: number): number {
  const part = within('measuredOhm', measuredOhm, 0, Infinity) - within('leadsOhm', leadsOhm, 0, Infinity);
  return Math.max(0, part);
}
