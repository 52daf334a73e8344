/** The desk's worklist: what is open, the most urgent first, and of two alike the one that waits longer. */
import { isEscalated } from '../case/look.js';
import type { CaseState, HandedOver } from '../case/state.js';

export interface Work {
  readonly caseId: string;
  readonly state: CaseState;
  readonly escalation: HandedOver;
}

const URGENCIES: readonly HandedOver['urgency'][] = ['now', 'today', 'routine'];

export function worklist(cases: readonly { readonly caseId: string; readonly state: CaseState }[]): Work[] {
  return cases
    .flatMap(({ caseId, state }) =>
      state.escalation && isEscalated(state) ? [{ caseId, state, escalation: state.escalation }] : [],
    )
    .sort(
      (a, b) =>
        URGENCIES.indexOf(a.escalation.urgency) - URGENCIES.indexOf(b.escalation.urgency) ||
        Date.parse(a.escalation.createdAt) - Date.parse(b.escalation.createdAt),
    );
}
