// Volts at a plug or a terminal, against what the mains should bring there: live, dead, or something between.

import type { Reading } from '../knowledge/facts.js';
import { atOnce } from './conditions.js';
import type { Band } from './band.js';
import { latest, mainsOf, meterError, readingOf, systemByValue, systemsOf, type Mains } from './mains.js';
import { numberOf } from './numbers.js';
import type { Setting } from './opinion.js';

export const OUTPUT = 'defrost-output.voltage';

/**
 * The band in V of a live point: what the outlet was measured at, else what the system allows; at the low end times
 * `full-from`. Without a system it is the one that the value itself is near to, else both.
 */
export function liveBand({ knowledge }: Setting, reading: Reading, mains: Mains, volts: number | null): Band {
  const full = numberOf(reading, 'full-from', 'ratio');
  const near = volts === null ? undefined : systemByValue(knowledge, volts);
  const systems = mains.system ? [mains.system] : near ? [near] : systemsOf(knowledge);
  const known = mains.measuredV !== undefined && !mains.tooLow ? mains.measuredV : undefined;
  const low = known === undefined ? Math.min(...systems.map((s) => s.tolerable.lowV)) : known * full;
  // The outlet itself wanders within its range between two readings.
  const high = Math.max(known ?? 0, ...systems.map((s) => s.tolerable.highV));
  return { low, high, uncertainty: meterError(reading, low, 'V') };
}

/** Nothing but what a meter picks up from wires nearby. */
export const isDead = (reading: Reading, volts: number): boolean => volts <= numberOf(reading, 'absent-below', 'V');

/** Whether volts leave the timer or the control, measured within `minutes` of this reading. */
export function outputLive(setting: Setting, minutes: number): 'live' | 'dead' | 'unknown' {
  const output = latest(setting.others, OUTPUT);
  if (typeof output?.value !== 'number' || !atOnce(output.at, setting.given.at, minutes)) return 'unknown';
  const reading = readingOf(setting.knowledge, OUTPUT);
  if (isDead(reading, output.value)) return 'dead';
  const { low, uncertainty } = liveBand(setting, reading, mainsOf(setting), output.value);
  return output.value >= low - 4 * uncertainty ? 'live' : 'unknown';
}
