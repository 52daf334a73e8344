// What a timed defrost can melt, and how long a variable control waits between two of them.

import { positive, within } from './domain.js';
import { heatToMeltJ } from './frost.js';

/** A heater's power in W and the share of its heat that melts frost, above 0 to 1 (published: 0.303; the rest warms the cabinet). */
export interface DefrostHeat {
  readonly powerW: number;
  readonly efficiency: number;
}

/**
 * Time in s that a heater needs for an amount of heat in J.
 * @throws RangeError when the heat is negative, the power not positive or the efficiency not above 0 to 1
 */
export function heatingTimeS(heatJ: number, { powerW, efficiency }: DefrostHeat): number {
  const useful = positive('powerW', powerW) * within('efficiency', positive('efficiency', efficiency), 0, 1);
  return within('heatJ', heatJ, 0, 1e12) / useful;
}

/** `clears` in `takesS`; or `leaves` so much frost for the next defrost, which then has more to do. */
export type DefrostOutcome =
  { readonly kind: 'clears'; readonly takesS: number } | { readonly kind: 'leaves'; readonly frostKg: number };

/**
 * Whether one timed defrost melts all the frost: mass in kg, its temperature in degC (0 or below), the limit in s.
 * What is left counts as still frozen in proportion to the heat that is missing.
 * @throws RangeError outside the ranges of heatToMeltJ and heatingTimeS, or when the limit is not positive
 */
export function timedDefrost(frostKg: number, temperatureC: number, heat: DefrostHeat, limitS: number): DefrostOutcome {
  const takesS = heatingTimeS(heatToMeltJ(frostKg, temperatureC), heat);
  if (takesS <= positive('limitS', limitS)) return { kind: 'clears', takesS };
  return { kind: 'leaves', frostKg: frostKg * (1 - limitS / takesS) };
}

/**
 * Compressor run time in h between defrosts of a variable control, from its shortest (CTL) and longest (CTM):
 * CTL CTM / (F (CTM - CTL) + CTL) with F = 0.20, CTL held to 6 to 12 h, CTM to 96 h, both in tenths of an hour.
 * Source: 10 CFR 430 subpart B appendix A, section 5.2.1.3 (6 and 96 h where a control does not state them).
 * @throws RangeError when either is not positive, or the longest, so held, is not longer than the shortest
 */
export function runHoursBetweenDefrosts(shortestH = 6, longestH = 96): number {
  const tenths = (hours: number): number => Math.round(hours * 10) / 10;
  const ctl = Math.min(Math.max(tenths(positive('shortestH', shortestH)), 6), 12);
  const ctm = Math.min(tenths(positive('longestH', longestH)), 96);
  positive('longestH - shortestH', ctm - ctl);
  return (ctl * ctm) / (0.2 * (ctm - ctl) + ctl);
}
