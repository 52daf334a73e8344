/** What was decided, as events: asked, advised, handed over. */
import type { CaseEvent } from '../case/events.js';
import { isEscalated, standingStops, valueOf } from '../case/look.js';
import type { CaseState } from '../case/state.js';
import type { Ranked } from '../diagnosis/belief.js';
import { wordsFor, type Knowledge, type Role } from '../knowledge/facts.js';
import { NEEDED_FINDINGS as F } from '../knowledge/named.js';
import type { EscalationKind, Urgency } from '../message/outgoing.js';
import { NOTHING_ASKED, resultQuestion, type Next } from './decide.js';

export interface Stamp {
  readonly at: string;
  readonly by: string;
  readonly newId: () => string;
}

export function record(knowledge: Knowledge, state: CaseState, role: Role, next: Next, stamp: Stamp): CaseEvent[] {
  const { at } = stamp;
  switch (next.kind) {
    case 'nothing':
      return [];
    case 'ask': {
      const drop: CaseEvent[] =
        state.advice && next.question.finding !== F.result && next.question.kind !== 'confirm'
          ? [{ type: 'advice-dropped', at }]
          : [];
      return [...drop, { type: 'asked', at, question: next.question }];
    }
    case 'hand-over':
      return [...escalate(next.why, state, stamp), { type: 'asked', at, question: next.question ?? NOTHING_ASKED }];
    case 'conclude': {
      const words = wordsFor(role);
      const events: CaseEvent[] = [];
      if (state.advice?.remedy !== next.remedy || state.advice.fault !== next.fault)
        events.push({ type: 'advised', at, remedy: next.remedy, fault: next.fault, words });
      const { action } = knowledge.faults.get(next.fault)?.repair[words] ?? { action: 'technician-visit' };
      if (action === 'technician-visit') events.push(...escalate('visit', state, stamp));
      if (action === 'licensed-technician') events.push(...escalate('sealed-system', state, stamp));
      const advised: CaseState = {
        ...state,
        advice: state.advice ?? { remedy: next.remedy, fault: next.fault, words, at },
      };
      return [...events, { type: 'asked', at, question: resultQuestion(knowledge, advised) }];
    }
  }
}

/** What was believed, kept beside advice and hand-over: outcomes are measured against it. */
export function believed(decided: readonly CaseEvent[], ranked: readonly Ranked[], at: string): CaseEvent[] {
  const settled = decided.some((e) => e.type === 'advised' || e.type === 'escalated');
  const ranking = ranked.map(({ fault, probability }) => ({ fault, probability: Number(probability.toFixed(6)) }));
  return settled ? [{ type: 'believed', at, ranking }] : [];
}

const KINDS: readonly EscalationKind[] = ['stuck', 'asked-for-person', 'visit', 'sealed-system', 'hazard'];
const URGENCIES: readonly Urgency[] = ['routine', 'today', 'now'];

/** Opens the escalation, or makes the open one graver; never less grave. */
function escalate(kind: EscalationKind, state: CaseState, { at, newId }: Stamp): CaseEvent[] {
  const urgency = urgencyOf(kind, state);
  const open = isEscalated(state) ? state.escalation : null;
  if (!open) return [{ type: 'escalated', at, id: newId(), kind, urgency }];
  const graver = KINDS.indexOf(kind) > KINDS.indexOf(open.kind);
  const sooner = URGENCIES.indexOf(urgency) > URGENCIES.indexOf(open.urgency);
  return graver || sooner
    ? [{ type: 'escalation-raised', at, kind: graver ? kind : open.kind, urgency: sooner ? urgency : open.urgency }]
    : [];
}

function urgencyOf(kind: EscalationKind, state: CaseState): Urgency {
  if (kind === 'hazard' || standingStops(state).length > 0) return 'now';
  return isFoodWarm(state) ? 'today' : 'routine';
}

export function isFoodWarm(state: CaseState): boolean {
  const said = valueOf(state, F.freezer) === 'thawing' || valueOf(state, F.freshFood) === 'warm';
  const hazard = state.hazards.some(
    (h) => !h.cleared && (h.hazard === 'food-unsafe' || h.hazard === 'medicine-unsafe'),
  );
  const measured = state.readings.some(
    (r) =>
      r.quantity === 'temperature' &&
      typeof r.value === 'number' &&
      ((r.part === 'fresh-food' && r.value > FRESH_FOOD_SAFE_C) || (r.part === 'freezer' && r.value > 0)),
  );
  return said || hazard || measured;
}
/** degC; published food-safety limit for the fresh food compartment, 40 F */
const FRESH_FOOD_SAFE_C = 4.5;
