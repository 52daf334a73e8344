/** An act of the desk in the store, while people go on talking in the case: load, decide, append; again when it changed. */
import { statusOf } from '../case/look.js';
import { fold, type CaseState } from '../case/state.js';
import { actOn, type Act, type Refusal } from '../desk/act.js';
import { overdue } from '../desk/overdue.js';
import type { CaseEvent } from '../case/events.js';
import type { Knowledge } from '../knowledge/facts.js';
import type { Escalation, Status } from '../message/outgoing.js';
import { summaryOf } from '../turn/summary.js';
import { dueAt, machineOffset } from './fallen-due.js';
import { pageId, pagesOf } from './pages.js';

/** The store, as far as the desk needs it. */
export interface DeskKeeps {
  readonly load: (caseId: string) => CaseState | null;
  readonly alone: <T>(work: () => T) => T;
  readonly happen: (happening: {
    caseId: string;
    from: number;
    at: string;
    events: readonly CaseEvent[];
    state: CaseState;
    status: Status;
    dueAt: string | null;
    renewed: Readonly<Record<string, string>>;
  }) => 'stored' | 'conflict';
}

/** What else stands in the outbox of an escalation and is made anew with its page, by its ids. */
export type Renew = (caseId: string, state: CaseState, escalation: Escalation) => Readonly<Record<string, string>>;

export type Worked =
  | { readonly ok: true; readonly state: CaseState }
  | { readonly ok: false; readonly refusal: Refusal | { readonly why: 'no-case' } };

const TRIES = 3;

/** Two desks that claim at once: one gets it, the other is told who has it. */
export function workAtDesk(
  knowledge: Knowledge,
  store: DeskKeeps,
  caseId: string,
  act: Act,
  by: string,
  now: Date,
  renew?: Renew,
): Worked {
  const at = now.toISOString();
  return again(store, () => {
    const before = store.load(caseId);
    // a case that was never handed over is nothing that the desk knows of
    if (!before?.escalation) return { ok: false, refusal: { why: 'no-case' } };
    const acted = actOn(knowledge, before, act, { at, by });
    if (!acted.ok) return acted;
    const state = keep(knowledge, store, caseId, before, acted.events, now, renew);
    return state && { ok: true, state };
  });
}

/** The reminder of an escalation that waits too long, once; false where there is none to give. */
export function remindOf(knowledge: Knowledge, store: DeskKeeps, caseId: string, now: Date): boolean {
  return again(store, () => {
    const before = store.load(caseId);
    const events = before ? overdue(knowledge, before, now.toISOString()) : [];
    if (!before || events.length === 0) return false;
    return keep(knowledge, store, caseId, before, events, now) === null ? null : true;
  });
}

/** Appends what happened and renews the page; null when another process was faster. */
export function keep(
  knowledge: Knowledge,
  store: Pick<DeskKeeps, 'happen'>,
  caseId: string,
  before: CaseState,
  events: readonly CaseEvent[],
  now: Date,
  renew?: Renew,
): CaseState | null {
  if (events.length === 0) return before;
  const state = fold(before, events);
  const summary = summaryOf(knowledge, state, caseId);
  const stored = store.happen({
    caseId,
    from: before.version,
    at: now.toISOString(),
    events,
    state,
    status: statusOf(state),
    dueAt: dueAt(knowledge, state, machineOffset(now)),
    renewed: summary
      ? { [pageId(caseId)]: pagesOf(knowledge, state, summary), ...renew?.(caseId, state, summary) }
      : {},
  });
  return stored === 'stored' ? state : null;
}

/** Three tries, the last while no other process can write. */
function again<T>(store: Pick<DeskKeeps, 'alone'>, work: () => T | null): T {
  for (let attempt = 1; attempt < TRIES; attempt += 1) {
    const result = work();
    if (result !== null) return result;
  }
  const last = store.alone(work);
  if (last === null) throw new Error('a case changed while no other process could write');
  return last;
}
