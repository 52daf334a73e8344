// The mains system that a voltage belongs to. The limits are an argument: they are knowledge.

import { within } from './domain.js';

/**
 * A mains system. `tolerable` is what a unit still has to work on: 120 V, 110 to 127 (ANSI C84.1 range B, from memory);
 * 230 V, 207 to 253 (IEC 60038).
 */
export interface SupplySystem {
  readonly nominalV: number;
  /** Limits in V, both still allowed. */
  readonly tolerable: { readonly lowV: number; readonly highV: number };
}

/**
 * The system that a rating plate's voltage belongs to: 110, 115, 120 and 127 V are one, 220, 230 and 240 V another.
 * @returns undefined where no system has that voltage in its tolerable range
 * @throws RangeError when the voltage is negative or not finite
 */
export function supplySystem(ratedV: number, systems: readonly SupplySystem[]): SupplySystem | undefined {
  const volts = within('ratedV', ratedV, 0, 1e4);
  return systems.find(({ tolerable }) => volts >= tolerable.lowV && volts <= tolerable.highV);
}
