/** Plain questions about a state, so that every stop reads a case the same way. */
import type { Status } from '../message/outgoing.js';
import type { CaseState, StandingHazard } from './state.js';

/** The one value of a finding, or null when unknown, not sure or several. */
export function valueOf(state: CaseState, finding: string): string | null {
  const fact = state.facts[finding];
  return fact && !fact.notSure && fact.values.length === 1 ? (fact.values[0] ?? null) : null;
}

export const standingStops = (state: CaseState): readonly StandingHazard[] =>
  state.hazards.filter((h) => h.level === 'stop' && !h.cleared);

export const isEscalated = (state: CaseState): boolean =>
  state.escalation !== null && state.escalation.state !== 'closed';

export function statusOf(state: CaseState): Status {
  if (state.closed) return 'closed';
  if (isEscalated(state)) return 'escalated';
  return state.advice ? 'advised' : 'open';
}
