/**
 * Outcomes are cases that came to an end, and what can be learned from them: how often the first conclusion was right,
 * who was sent where, how well the chances were told. This room counts; it changes no likelihood by itself, and it
 * knows no person.
 *
 * This file: one case's events into its outcome.
 */
import type { CaseEvent } from '../case/events.js';
import { valueOf } from '../case/look.js';
import { fold, newCase, type CaseState } from '../case/state.js';
import type { Ranked } from '../diagnosis/belief.js';
import { wordsFor, type Role, type Words } from '../knowledge/facts.js';
import { NEEDED_FINDINGS as F } from '../knowledge/named.js';
import type { EscalationKind, Level, Urgency } from '../message/outgoing.js';

export interface Outcome {
  readonly id: string;
  /** made up, to try the report */
  readonly invented: boolean;
  readonly openedAt: string;
  readonly closedAt: string;
  readonly closedAs: 'desk' | 'fixed' | 'unanswered';
  /** the words of the one who opened it: what may be done depends on who does it */
  readonly words: Words;
  readonly layout: string | null;
  readonly control: string | null;
  /** a fault, `something-else`, `not-found`, or null where nobody said */
  readonly cause: string | null;
  /** the fault of the first conclusion */
  readonly concluded: string | null;
  /** what was believed at the last conclusion, else at the hand-over */
  readonly ranking: readonly Ranked[] | null;
  readonly questions: number;
  readonly escalation: { readonly kind: EscalationKind; readonly urgency: Urgency } | null;
  readonly hazards: readonly { readonly hazard: string; readonly level: Level; readonly takenBack: boolean }[];
}

/** Null for a case that goes on. */
export function outcomeOf(id: string, events: readonly CaseEvent[]): Outcome | null {
  const [first] = events;
  if (!first) return null;
  const role = (first.type === 'opened' ? first.role : 'homeowner') as Role;
  const state = fold(newCase(first.at, role), events);
  const end = events.findLast((e) => e.type === 'closed');
  if (!state.closed || !end || !state.closedAs) return null;
  const advised = events.filter((e) => e.type === 'advised');
  return {
    id,
    invented: false,
    openedAt: first.at,
    closedAt: end.at,
    closedAs: state.closedAs,
    words: wordsFor(role),
    layout: valueOf(state, F.layout),
    control: valueOf(state, F.defrostControl),
    cause: causeOf(state),
    concluded: advised[0]?.fault ?? null,
    ranking: rankingAt(events),
    questions: state.questions,
    escalation: state.escalation && { kind: state.escalation.kind, urgency: state.escalation.urgency },
    hazards: hazardsOf(events),
  };
}

/** What the desk found; else the fault whose remedy ended it. */
function causeOf(state: CaseState): string | null {
  if (state.confirmed) return state.confirmed.cause;
  return state.closedAs === 'fixed' ? (state.advice?.fault ?? null) : null;
}

/** A hazard's hand-over is no judgement of the cause. */
function rankingAt(events: readonly CaseEvent[]): readonly Ranked[] | null {
  let at: { ranking: readonly Ranked[]; advised: boolean } | null = null;
  let settled: 'advised' | 'handed-over' | null = null;
  for (const e of events) {
    if (e.type === 'advised') settled = 'advised';
    else if (e.type === 'escalated') settled ??= e.kind === 'hazard' ? null : 'handed-over';
    else if (e.type === 'believed') {
      const advised = settled === 'advised';
      if (settled !== null && (advised || !at?.advised)) at = { ranking: e.ranking, advised };
      settled = null;
    }
  }
  return at?.ranking ?? null;
}

function hazardsOf(events: readonly CaseEvent[]): Outcome['hazards'] {
  const found = new Map<string, { hazard: string; level: Level; takenBack: boolean }>();
  for (const e of events) {
    if (e.type === 'hazard-raised') found.set(e.hazard, { hazard: e.hazard, level: e.level, takenBack: false });
    const known = e.type === 'hazard-cleared' && e.how === 'taken-back' ? found.get(e.hazard) : undefined;
    if (known) known.takenBack = true;
  }
  return [...found.values()];
}
