/** What happens next. Hazards come before all else, a person who is asked for before any question. */
import type { Question } from '../case/events.js';
import { hoursUntilResult } from '../case/follow-up.js';
import { isEscalated, standingStops, valueOf } from '../case/look.js';
import { readingId, type CaseState } from '../case/state.js';
import { appliesTo, candidatesOf, openedIn, type Gate } from '../diagnosis/candidates.js';
import { plan } from '../diagnosis/plan.js';
import { decisionsFor } from '../diagnosis/remedies.js';
import { settle } from '../diagnosis/settle.js';
import { wordsFor, type Knowledge, type Role, type Step } from '../knowledge/facts.js';
import { NEEDED_FINDINGS as F } from '../knowledge/named.js';
import type { EscalationKind } from '../message/outgoing.js';
import type { NamedPicture } from '../pictures/picture.js';
import type { Judged } from '../readings/judge.js';
import { dangerAsked, WATCH, type Reason } from '../reply/ask.js';
import { permit, type Warning } from '../safety/permit.js';
import type { Heard } from './hear.js';
import type { Mind } from './think.js';

export type Next =
  | { readonly kind: 'nothing' }
  | {
      readonly kind: 'ask';
      readonly question: Question;
      readonly reason: Reason | null;
      readonly warnings: readonly Warning[];
    }
  | { readonly kind: 'conclude'; readonly remedy: string; readonly fault: string }
  | { readonly kind: 'hand-over'; readonly why: EscalationKind; readonly question: Question | null };

const plain: Question = {
  kind: 'choice',
  finding: null,
  reading: null,
  about: null,
  value: null,
  was: null,
  notBefore: null,
};
export const NOTHING_ASKED = plain;
const asking = (question: Question): Next => ({ kind: 'ask', question, reason: null, warnings: [] });
const about = (what: string, value: string | null): Question => ({
  ...plain,
  kind: what === 'degrees' ? 'choice' : 'confirm',
  about: what,
  value,
});

export function decide(
  knowledge: Knowledge,
  state: CaseState,
  role: Role,
  mind: Mind,
  heard: Heard,
  picture: NamedPicture | null = null,
): Next {
  if (state.closed) return { kind: 'nothing' };
  if (heard.takeBack) return asking(about('hazard-taken-back', null));
  if (standingStops(state).length > 0)
    return { kind: 'hand-over', why: 'hazard', question: powerQuestion(knowledge, state, role) };
  if (heard.doubt.length > 0) return asking(dangerAsked(heard.doubt));
  if (heard.wantsPerson) return { kind: 'hand-over', why: 'asked-for-person', question: null };
  if (heard.unitless !== null) return asking(about('degrees', String(heard.unitless)));
  if (heard.confirm) return asking(heard.confirm);
  if (state.advice && !heard.newEvidence) return asking(resultQuestion(knowledge, state));
  if (isEscalated(state) && !heard.newEvidence) return { kind: 'nothing' };
  // its numbers are the answers to this question
  const saidMore = heard.understood.length > 0 || heard.measured.length > 0;
  if (picture?.name === 'frost' && !saidMore) return asking({ ...plain, finding: F.frostPlace });
  const pending = state.question;
  if (!heard.newEvidence && pending && isPending(state, pending) && mayAsk(knowledge, state, role, pending))
    return repeated(knowledge, state, role, pending);
  return diagnose(knowledge, state, role, mind);
}

/** The step with the least expected cost, or the remedy when no question is worth its minutes. */
function diagnose(knowledge: Knowledge, state: CaseState, role: Role, mind: Mind): Next {
  const words = wordsFor(role);
  const useless = uselessReadings(mind.judged);
  const failed = state.failed.filter((f) => f.words === words).map((f) => f.remedy);
  const decisions = decisionsFor(knowledge, mind.model, words, failed);
  const candidates = candidatesOf(knowledge, state, (step) => gateOf(knowledge, state, role, step), useless);
  const chosen = plan(knowledge, mind.model, mind.belief, mind.ranked, candidates, decisions);
  if (chosen.kind === 'ask') {
    const { step, tells, minutes } = chosen;
    const opened = openedIn(knowledge, state);
    const openAlready = step.needs.open.length > 0 && step.needs.open.every((name) => opened.has(name));
    return proposed(knowledge, state, role, step, { tells, minutes, openAlready });
  }
  const { decision, fault, repair } = settle(knowledge, mind.model, mind.ranked, words, decisions, chosen.decision);
  const { remedy } = decision;
  if (remedy === null) return { kind: 'hand-over', why: 'stuck', question: null };
  const parts = repair?.parts ?? [];
  const plateFirst =
    words === 'technician' && parts.length > 0 && !state.facts[F.refrigerant] && (state.asked[F.refrigerant] ?? 0) < 1;
  return plateFirst ? asking({ ...plain, finding: F.refrigerant }) : { kind: 'conclude', remedy, fault };
}

/** Readings that tell nothing as they were taken, so that the same step may be taken again. */
function uselessReadings(judged: readonly Judged[]): Set<string> {
  const told = new Set(judged.filter((j) => j.weights !== null && j.asks === null).map((j) => j.step));
  return new Set(judged.map((j) => j.step).filter((step) => !told.has(step)));
}

function gateOf(knowledge: Knowledge, state: CaseState, role: Role, step: Step): Gate {
  const p = permit(knowledge, state, role, step);
  return p.kind === 'refuse'
    ? { kind: 'shut' }
    : p.kind === 'first'
      ? { kind: 'first', finding: p.finding }
      : { kind: 'open' };
}

/** A step as a question, or what has to be settled before it. */
function proposed(knowledge: Knowledge, state: CaseState, role: Role, step: Step, reason: Reason | null): Next {
  const applies = appliesTo(knowledge, state, step);
  const allowed = permit(knowledge, state, role, step);
  const first = applies.kind === 'first' ? applies.finding : allowed.kind === 'first' ? allowed.finding : null;
  const firstStep = first ? knowledge.findings.get(first) : undefined;
  if (firstStep && firstStep.id !== step.id) return proposed(knowledge, state, role, firstStep, null);
  const notBefore = step.waitHours > 0 ? hoursAfter(state.lastAt, step.waitHours) : null;
  const known = state.facts[step.id];
  const question: Question =
    step.about === 'finding'
      ? { ...plain, finding: step.id, value: known?.notSure ? WATCH : null, notBefore }
      : { ...plain, kind: 'measurement', reading: step.id, notBefore };
  return { kind: 'ask', question, reason, warnings: allowed.kind === 'allow' ? allowed.warnings : [] };
}

/** A technician's test that stands open is no question for a homeowner who writes next. */
function mayAsk(knowledge: Knowledge, state: CaseState, role: Role, question: Question): boolean {
  const step = knowledge.steps.get(question.finding ?? question.reading ?? '');
  return step === undefined || permit(knowledge, state, role, step).kind !== 'refuse';
}

/** The question that still stands, with its warnings as they are now. */
function repeated(knowledge: Knowledge, state: CaseState, role: Role, question: Question): Next {
  const step = knowledge.steps.get(question.finding ?? question.reading ?? '');
  const allowed = step ? permit(knowledge, state, role, step) : null;
  return { kind: 'ask', question, reason: null, warnings: allowed?.kind === 'allow' ? allowed.warnings : [] };
}

/** While a stop hazard stands only the power may be asked, and not even that where it could hurt. */
function powerQuestion(knowledge: Knowledge, state: CaseState, role: Role): Question | null {
  const step = knowledge.findings.get(F.power);
  if (!step || valueOf(state, F.power) === 'off' || (state.asked[F.power] ?? 0) >= 2) return null;
  return permit(knowledge, state, role, step).kind === 'allow' ? { ...plain, finding: F.power } : null;
}

/** How it went, asked when temperatures have had time to settle. */
export function resultQuestion(knowledge: Knowledge, state: CaseState): Question {
  const advice = state.advice;
  const hours = advice ? hoursUntilResult(knowledge, advice) : knowledge.waits.afterRepair.value;
  return { ...plain, finding: F.result, notBefore: hoursAfter(advice?.at ?? state.lastAt, hours) };
}

function isPending(state: CaseState, q: Question): boolean {
  if (q.about) return true;
  if (q.kind === 'confirm') return true;
  if (q.finding) {
    const fact = state.facts[q.finding];
    return fact === undefined || (q.value === WATCH && fact.notSure);
  }
  return (
    q.reading !== null &&
    !state.unmeasurable.includes(q.reading) &&
    !state.readings.some((r) => readingId(r) === q.reading)
  );
}

function hoursAfter(at: string, hours: number): string {
  return new Date(Date.parse(at) + hours * 3_600_000).toISOString();
}
