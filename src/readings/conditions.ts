// What must hold before a reading means anything, as far as the case knows it.

import { valueOf } from '../case/look.js';
import type { CaseState } from '../case/state.js';
import { NEEDED_FINDINGS } from '../knowledge/named.js';
import type { Setting } from './opinion.js';

/** A defrost forced by hand, and the answers that say it was reached. */
const REACHED: Readonly<Record<string, readonly string[]>> = {
  'timer.forced-defrost': ['compressor-stops-heater-warm', 'compressor-stops-heater-cold'],
  'control.forced-defrost': ['heater-warm', 'heater-cold'],
};
/** The timer's shaft was turned into defrost, whether or not its contacts followed. */
const TURNED: typeof REACHED = {
  ...REACHED,
  'timer.forced-defrost': [...(REACHED['timer.forced-defrost'] ?? []), 'nothing-changes'],
};

const MINUTE_MS = 60_000;

/** Whether two things happened within `minutes` of each other; the times are ISO 8601. */
export const atOnce = (one: string, other: string, minutes: number): boolean =>
  Math.abs(Date.parse(one) - Date.parse(other)) <= minutes * MINUTE_MS;

/** Whether a defrost was forced within `minutes` of this reading, and `reached` or at least `turned` to. */
export function defrostCalled(
  { state, given }: Setting,
  minutes: number,
  how: 'reached' | 'turned' = 'reached',
): boolean {
  return Object.entries(how === 'reached' ? REACHED : TURNED).some(([finding, answers]) => {
    const fact = state.facts[finding];
    return fact !== undefined && fact.values.some((v) => answers.includes(v)) && atOnce(given.at, fact.at, minutes);
  });
}

/** Thawed within the day: whatever has to be cold is not, or not yet for long enough. */
export const justThawed = (state: CaseState): boolean => valueOf(state, NEEDED_FINDINGS.thawed) === 'under-a-day';

/** The compressor rests or cannot start: a fan that is fed with it gets nothing. */
export function compressorStands(state: CaseState): boolean {
  const running = valueOf(state, 'compressor.running');
  return running === 'never' || running === 'clicks-off';
}

/** What starts a defrost, where it is known: an electronic control often feeds its fans low-voltage DC. */
export const defrostControl = (state: CaseState): string | null => valueOf(state, NEEDED_FINDINGS.defrostControl);
