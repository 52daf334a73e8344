/** What a caller writes while the desk waits for an answer goes to the desk; a tap or a reading goes to the case alone. */
import type { CaseEvent } from '../case/events.js';
import type { CaseState } from '../case/state.js';
import type { Incoming } from '../message/incoming.js';

/** @param toldNow the desk's question reaches this person only with the answer to this very message */
export function relayed(state: CaseState, { said, from }: Incoming, at: string, toldNow: boolean): CaseEvent[] {
  const asker = state.escalation?.asked;
  if (!asker || asker === from.id || toldNow || said.kind !== 'text') return [];
  return [{ type: 'desk-answered', at, by: from.id, text: said.text }];
}
