/** When an escalation that nobody has claimed has waited too long for its urgency. It is said once. */
import type { CaseEvent } from '../case/events.js';
import type { CaseState } from '../case/state.js';
import type { Knowledge } from '../knowledge/facts.js';

/** When a waiting escalation becomes overdue, in UTC; null for one that waits no longer, or where it was said. */
export function overdueAt(knowledge: Knowledge, state: CaseState): string | null {
  const open = state.escalation;
  if (open?.state !== 'waiting' || open.overdue) return null;
  const { value: minutes } = knowledge.waits.overdue[open.urgency];
  return new Date(Date.parse(open.since) + minutes * 60_000).toISOString();
}

/** The reminder, once it is due. */
export function overdue(knowledge: Knowledge, state: CaseState, now: string): CaseEvent[] {
  const at = overdueAt(knowledge, state);
  if (at === null || !state.escalation || Date.parse(at) > Date.parse(now)) return [];
  return [{ type: 'overdue', at: now, urgency: state.escalation.urgency }];
}
