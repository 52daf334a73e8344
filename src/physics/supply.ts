// The voltage at the outlet against the system it belongs to. The limits are an argument: they are knowledge.

import { within } from './domain.js';

/** Limits in V, both still allowed. */
export interface VoltageRange {
  readonly lowV: number;
  readonly highV: number;
}

/**
 * A mains system. `usual` is where the supply should be; `tolerable` what a unit still has to work on.
 * Published: 120 V, 114 to 126 and 110 to 127 (ANSI C84.1 ranges A and B); 230 V, 207 to 253 (IEC 60038).
 */
export interface SupplySystem {
  readonly nominalV: number;
  readonly usual: VoltageRange;
  readonly tolerable: VoltageRange;
  /** Below this there is no supply, only what a meter picks up from wires nearby. */
  readonly absentBelowV: number;
}

/**
 * The system that a rating plate's voltage belongs to: 110, 115, 120 and 127 V are one, 220, 230 and 240 V another.
 * @returns undefined where no system has that voltage in its tolerable range
 * @throws RangeError when the voltage is negative or not finite
 */
export function supplySystem(ratedV: number, systems: readonly SupplySystem[]): SupplySystem | undefined {
  return systems.find(({ tolerable }) => isWithin(within('ratedV', ratedV, 0, 1e4), tolerable));
}

export type SupplyState = 'in-range' | 'low' | 'high' | 'absent';

/**
 * Where a measured voltage (V; its sign plays no part) lies.
 * @param range the system's usual or its tolerable range
 * @throws RangeError when the voltage is not finite
 */
export function supplyState(measuredV: number, system: SupplySystem, range: 'usual' | 'tolerable'): SupplyState {
  const volts = within('measuredV', Math.abs(measuredV), 0, Number.MAX_VALUE);
  if (volts < system.absentBelowV) return 'absent';
  if (isWithin(volts, system[range])) return 'in-range';
  return volts < system[range].lowV ? 'low' : 'high';
}

function isWithin(volts: number, { lowV, highV }: VoltageRange): boolean {
  return volts >= lowV && volts <= highV;
}
