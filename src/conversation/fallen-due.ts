/** What has fallen due in a case: an escalation that waits too long, a question of its own, an end without an answer. */
import type { CaseEvent } from '../case/events.js';
import { due, nextDue, type Due } from '../case/follow-up.js';
import { fold, type CaseState } from '../case/state.js';
import { overdue, overdueAt } from '../desk/overdue.js';
import type { Knowledge } from '../knowledge/facts.js';

/** Minutes east of Greenwich on this machine. */
export const machineOffset = (now: Date): number => -now.getTimezoneOffset();

export interface Fallen {
  readonly events: readonly CaseEvent[];
  /** what the case would ask by itself now */
  readonly ask: Extract<Due, { kind: 'ask' }> | null;
}

/**
 * @param spoken a person speaks in the case at this moment: then nobody has gone quiet
 * @param machine see `machineOffset`
 */
export function fallenDue(
  knowledge: Knowledge,
  state: CaseState,
  now: string,
  machine: number,
  spoken: boolean,
): Fallen {
  const late = overdue(knowledge, state, now);
  const own = due(knowledge, fold(state, late), now, machine);
  if (own?.kind === 'close')
    return { events: spoken ? late : [...late, { type: 'closed', at: now, by: '', why: 'unanswered' }], ask: null };
  return { events: late, ask: own && !(spoken && own.about === 'quiet') ? own : null };
}

/** When the case has next something to say, in UTC, or null. */
export function dueAt(knowledge: Knowledge, state: CaseState, machine: number): string | null {
  const times = [nextDue(knowledge, state, machine), overdueAt(knowledge, state)].filter((t) => t !== null);
  return times.sort()[0] ?? null;
}
