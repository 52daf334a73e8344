/**
 * Judges a proposed step by the facts of the case and the role of the one who would take it: allowed, something to
 * settle first, or refused. No cost and no probability can outvote it.
 */
import type { CaseState } from '../case/state.js';
import { standingStops, valueOf } from '../case/look.js';
import type { Knowledge, Role, Step } from '../knowledge/facts.js';
import { NEEDED_FINDINGS as F } from '../knowledge/named.js';

export type Permit =
  | { readonly kind: 'allow'; readonly warnings: readonly Warning[] }
  /** this finding is asked before */
  | { readonly kind: 'first'; readonly finding: string; readonly warnings: readonly Warning[] }
  | { readonly kind: 'refuse'; readonly because: Refusal };

/** Texts of words/safety.yaml that go with the step. */
export type Warning =
  | 'unplug-first'
  | 'power-on-again'
  | 'live-work'
  | 'heater-hot'
  | 'cold-unsure'
  | 'flammable'
  | 'capacitor'
  | 'warranty'
  | 'sharp-fins';
type Refusal = 'hazard' | 'needs-technician' | 'not-cold' | 'no-live-work' | 'warranty';

const OPENED = ['panel', 'meter', 'live'] as const;

/** `answered`: findings already asked without a usable answer are not asked again. */
export function permit(knowledge: Knowledge, state: CaseState, role: Role, step: Step): Permit {
  const stops = standingStops(state);
  if (stops.length > 0) {
    const quiet = stops.some((h) => h.silent || knowledge.hazards.get(h.hazard)?.askPower === false);
    return step.id === F.power && !quiet ? { kind: 'allow', warnings: [] } : { kind: 'refuse', because: 'hazard' };
  }
  const { skill, power, cold } = step.needs;
  const opens = (OPENED as readonly string[]).includes(skill);
  const warnings: Warning[] = [];
  const unsettled = (finding: string): boolean => !state.facts[finding] && (state.asked[finding] ?? 0) < 2;

  if (role === 'homeowner') {
    if (skill === 'live') return { kind: 'refuse', because: 'needs-technician' };
    if (opens) {
      if (unsettled(F.canMeasure)) return { kind: 'first', finding: F.canMeasure, warnings };
      if (valueOf(state, F.canMeasure) !== 'yes') return { kind: 'refuse', because: 'needs-technician' };
    }
  } else if (skill === 'live') {
    if (unsettled(F.liveWork)) return { kind: 'first', finding: F.liveWork, warnings };
    if (valueOf(state, F.liveWork) !== 'yes') return { kind: 'refuse', because: 'no-live-work' };
    warnings.push('live-work');
  }

  if (cold) {
    if (unsettled(F.thawed)) return { kind: 'first', finding: F.thawed, warnings };
    const thawed = valueOf(state, F.thawed);
    if (thawed === 'under-a-day') return { kind: 'refuse', because: 'not-cold' };
    if (thawed === null) warnings.push('cold-unsure');
  }

  if (opens) {
    if (unsettled(F.warranty)) return { kind: 'first', finding: F.warranty, warnings };
    if (valueOf(state, F.warranty) === 'yes') {
      if (role === 'homeowner') return { kind: 'refuse', because: 'warranty' };
      warnings.push('warranty');
    }
    const refrigerant = valueOf(state, F.refrigerant);
    if (refrigerant === 'r-600a' || refrigerant === 'r-290') warnings.push('flammable');
    if (step.needs.open.includes('freezer-rear-panel')) warnings.push('sharp-fins');
    if (step.needs.open.includes('rear-cover')) warnings.push('capacitor');
  }

  const isOff = valueOf(state, F.power) === 'off';
  if (power === 'off' && skill !== 'look' && !isOff) {
    const times = state.asked[F.power] ?? 0;
    const told = state.facts[F.power];
    // a homeowner is asked, and once more after an "on"; a technician is told
    if (role === 'homeowner' && (times === 0 || (times < 2 && told?.notSure !== true)))
      return { kind: 'first', finding: F.power, warnings };
    if (role === 'homeowner' && opens) return { kind: 'refuse', because: 'needs-technician' };
    warnings.push('unplug-first');
  }
  if (power === 'on' && isOff) warnings.push('power-on-again');
  if (skill === 'live' && step.id.includes('forced-defrost')) warnings.push('heater-hot');
  return { kind: 'allow', warnings };
}

/** Whether a topic may be told now: what tells to do something at the unit is kept back while a danger stands. */
export const mayTell = (knowledge: Knowledge, state: CaseState, topic: string | null): boolean =>
  standingStops(state).length === 0 || knowledge.topics.get(topic ?? '')?.handsOn !== true;
