/** People out of the cases they took part in, by their wish or because the case ended long ago. What was found stays. */
import { fold, type CaseState } from '../case/state.js';
import type { CaseEvent } from '../case/events.js';
import type { Knowledge } from '../knowledge/facts.js';
import { summaryOf } from '../turn/summary.js';
import { dueAt, machineOffset } from './fallen-due.js';
import { pageId, pagesOf } from './pages.js';

/** The store, as far as erasing needs it. */
export interface ErasureKeeps {
  readonly casesOf: (person: string) => readonly string[];
  readonly closedBefore: (moment: string) => readonly string[];
  readonly erase: (erasure: {
    person: string | null;
    caseIds: readonly string[];
    forget: (caseId: string) => void;
    after: (caseId: string, state: CaseState, alone: boolean) => After;
  }) => void;
}

interface After {
  readonly events: readonly CaseEvent[];
  readonly state: CaseState;
  readonly dueAt: string | null;
  readonly renewed: Readonly<Record<string, string>>;
}

export interface Outside {
  readonly now: Date;
  /** deletes what stands beside the store of a case that nobody is left in: pages, pictures */
  readonly forget: (caseId: string) => void;
}

/** The cases that the person was taken out of; none where nobody is known by this name. */
export function erasePerson(
  knowledge: Knowledge,
  store: ErasureKeeps,
  person: string,
  outside: Outside,
): readonly string[] {
  return erase(knowledge, store, person, store.casesOf(person), outside);
}

const DAY = 86_400_000;

/** Everybody out of the cases that were closed so many days ago and not touched since; which cases these were. */
export function forgetOld(
  knowledge: Knowledge,
  store: ErasureKeeps,
  days: number,
  outside: Outside,
): readonly string[] {
  const since = new Date(outside.now.getTime() - days * DAY).toISOString();
  return erase(knowledge, store, null, store.closedBefore(since), outside);
}

function erase(
  knowledge: Knowledge,
  store: ErasureKeeps,
  person: string | null,
  caseIds: readonly string[],
  { now, forget }: Outside,
): readonly string[] {
  // who wrote in no case may still be known by a name
  if (person !== null || caseIds.length > 0)
    store.erase({ person, caseIds, forget, after: (id, state, alone) => after(knowledge, id, state, alone, now) });
  return caseIds;
}

function after(knowledge: Knowledge, caseId: string, before: CaseState, alone: boolean, now: Date): After {
  const at = now.toISOString();
  const events: CaseEvent[] = [{ type: 'erased', at }];
  // nobody could go on with what a nameless technician has claimed
  const { escalation } = before;
  if (escalation?.state === 'claimed' && escalation.claimedBy === '')
    events.push({ type: 'handed-back', at, by: '', text: null });
  const state = fold(before, events);
  if (alone) return { events, state, dueAt: null, renewed: {} };
  const summary = summaryOf(knowledge, state, caseId);
  return {
    events,
    state,
    dueAt: dueAt(knowledge, state, machineOffset(now)),
    renewed: summary ? { [pageId(caseId)]: pagesOf(knowledge, state, summary) } : {},
  };
}
