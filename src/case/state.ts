/** The state of a case, folded from its events one by one; the same events always give the same state. */
import { NEEDED_FINDINGS } from '../knowledge/named.js';
import type { CaseEvent, Measurement, Question } from './events.js';
import type { CaseState, Fact, HandedOver } from './shape.js';

export {
  newCase,
  STATE_SHAPE,
  type CaseState,
  type Fact,
  type HandedOver,
  type Measured,
  type StandingHazard,
} from './shape.js';

export const fold = (state: CaseState, events: readonly CaseEvent[]): CaseState => events.reduce(evolve, state);

function evolve(state: CaseState, event: CaseEvent): CaseState {
  const next = { ...state, version: state.version + 1, lastAt: event.at };
  switch (event.type) {
    case 'opened':
      return { ...next, openedAt: event.at };
    case 'heard': {
      const known = state.people.some((p) => p.id === event.by && p.role === event.role);
      return {
        ...next,
        heardAt: event.at,
        followUps: { ...state.followUps, unanswered: false },
        role: event.role,
        people: known ? state.people : [...state.people, { id: event.by, role: event.role }],
      };
    }
    case 'found':
      return {
        ...next,
        facts: { ...state.facts, [event.finding]: factOf(state.facts[event.finding], event) },
        order: latest(state, event.finding),
      };
    case 'withdrawn':
      return withdraw(next, event);
    case 'measured': {
      const { at, by, measurement } = event;
      const id = readingId(measurement);
      return {
        ...next,
        readings: [...state.readings.filter((r) => !sameConditions(r, measurement)), { ...measurement, at, by }],
        unmeasurable: state.unmeasurable.filter((r) => r !== id),
        order: latest(state, id),
      };
    }
    case 'unmeasurable':
      return { ...next, unmeasurable: [...new Set([...state.unmeasurable, event.reading])] };
    case 'family-named':
      return { ...next, family: event.family };
    case 'hazard-raised':
      return {
        ...next,
        hazards: [
          ...state.hazards.filter((h) => h.hazard !== event.hazard || h.cleared),
          {
            hazard: event.hazard,
            level: event.level,
            at: event.at,
            by: event.by,
            cleared: false,
            silent: isSilent(state, event),
          },
        ],
      };
    case 'hazard-cleared':
      return { ...next, hazards: state.hazards.map((h) => (h.hazard === event.hazard ? { ...h, cleared: true } : h)) };
    case 'asked': {
      const { question } = event;
      const step = question.finding ?? question.reading;
      if (question.about === 'danger' && question.value)
        return { ...next, question, doubted: [...new Set([...state.doubted, ...question.value.split(' ')])] };
      if (!step) return { ...next, question };
      const asked = { ...state.asked, [step]: (state.asked[step] ?? 0) + 1 };
      return { ...next, question, asked, questions: state.questions + 1 };
    }
    case 'told':
      return { ...next, told: state.told.includes(event.key) ? state.told : [...state.told, event.key] };
    case 'units-chosen':
      return { ...next, units: event.units };
    case 'advised':
      return {
        ...next,
        advice: { remedy: event.remedy, fault: event.fault, words: event.words, at: event.at },
        followUps: { ...state.followUps, done: 0 },
        question: null,
      };
    case 'advice-dropped':
      return { ...next, advice: null };
    case 'repair-failed':
      return {
        ...next,
        advice: null,
        failed: [...state.failed, { remedy: event.remedy, words: event.words, better: event.better }],
      };
    case 'escalated':
      return {
        ...next,
        escalation: {
          id: event.id,
          kind: event.kind,
          urgency: event.urgency,
          createdAt: event.at,
          ...waitingSince(event.at),
        },
      };
    case 'escalation-raised':
      return handedOver(next, {
        kind: event.kind,
        urgency: event.urgency,
        overdue: state.escalation?.urgency === event.urgency && state.escalation.overdue,
      });
    case 'escalation-ended':
      return handedOver(next, { state: 'closed', since: event.at, asked: null });
    case 'claimed':
      return handedOver(next, {
        state: 'claimed',
        claimedBy: event.by,
        since: event.at,
        answered: false,
        overdue: false,
      });
    case 'desk-asked':
      return handedOver(next, { asked: event.by, answered: false });
    case 'desk-answered':
      return handedOver(next, { asked: null, answered: true });
    case 'handed-back':
      return handedOver(next, waitingSince(event.at));
    case 'overdue':
      return handedOver(next, { overdue: true });
    case 'cause-confirmed':
      return { ...next, confirmed: { cause: event.cause, at: event.at } };
    case 'person-asked':
      return { ...next, personAsked: true };
    case 'misunderstood':
      return { ...next, misunderstood: state.misunderstood + 1 };
    case 'closed':
      return { ...next, closed: true, closedAs: event.why, question: null };
    case 'reopened':
      // an answer to how it went speaks of the advice; anything else opens a new question
      return { ...next, closed: false, closedAs: null, advice: state.question ? state.advice : null };
    case 'believed':
    case 'erased':
      return next;
    case 'followed-up':
      return {
        ...next,
        followUps: {
          ...state.followUps,
          last: { about: event.about, at: event.at },
          unanswered: true,
          done: event.place === null ? state.followUps.done : event.place + 1,
        },
        question: state.closed ? HOW_IT_WENT : state.question,
      };
    case 'follow-ups-stopped':
      return { ...next, followUps: { ...state.followUps, stopped: true } };
    case 'offset-known':
      return { ...next, offset: { minutes: event.minutes, told: event.told } };
    case 'photo-kept':
      return { ...next, photos: [...state.photos, { at: event.at, of: event.of }] };
  }
}

const waitingSince = (since: string): Omit<HandedOver, 'id' | 'kind' | 'urgency' | 'createdAt'> => ({
  state: 'waiting',
  claimedBy: null,
  since,
  asked: null,
  answered: false,
  overdue: false,
});

const handedOver = (state: CaseState, change: Partial<HandedOver>): CaseState => ({
  ...state,
  escalation: state.escalation && { ...state.escalation, ...change },
});

/** A case that was closed as fixed asks how it went: the answer is understood as one to this. */
const HOW_IT_WENT: Question = {
  kind: 'choice',
  finding: NEEDED_FINDINGS.result,
  reading: null,
  about: null,
  value: null,
  was: null,
  notBefore: null,
};

export const readingId = (m: { readonly part: string; readonly quantity: string }): string => `${m.part}.${m.quantity}`;

/** A second reading of the same thing at the same temperature replaces the first; at another it stands beside it. */
function sameConditions(a: Measurement, b: Measurement): boolean {
  if (readingId(a) !== readingId(b)) return false;
  if (a.atC === null || b.atC === null) return true;
  return Math.abs(a.atC - b.atC) < SAME_TEMPERATURE_K;
}
const SAME_TEMPERATURE_K = 5;

function factOf(old: Fact | undefined, event: Extract<CaseEvent, { type: 'found' }>): Fact {
  const { values, denied, notSure, confidence, from, at, by } = event;
  if (event.replace || !old || old.notSure) return { values, denied, notSure, confidence, from, at, by };
  const kept = old.values.filter((v) => !denied.includes(v));
  const keptDenied = old.denied.filter((v) => !values.includes(v));
  return {
    values: [...new Set([...kept, ...values])],
    denied: [...new Set([...keptDenied, ...denied])],
    notSure: notSure && kept.length === 0 && values.length === 0,
    confidence: values.length || denied.length ? confidence : old.confidence,
    from,
    at,
    by,
  };
}

function withdraw(state: CaseState, event: Extract<CaseEvent, { type: 'withdrawn' }>): CaseState {
  if (event.reading) {
    const reading = event.reading;
    return {
      ...state,
      readings: state.readings.filter((r) => readingId(r) !== reading),
      asked: unasked(state, reading),
      order: state.order.filter((o) => o !== reading),
    };
  }
  const finding = event.finding;
  const old = finding ? state.facts[finding] : undefined;
  if (!finding || !old) return state;
  const values = event.values.length ? old.values.filter((v) => !event.values.includes(v)) : [];
  const facts = { ...state.facts };
  if (values.length === 0 && old.denied.length === 0) delete facts[finding];
  else facts[finding] = { ...old, values };
  return {
    ...state,
    facts,
    asked: unasked(state, finding),
    order: finding in facts ? state.order : state.order.filter((o) => o !== finding),
  };
}

const latest = (state: CaseState, step: string): string[] => [...state.order.filter((o) => o !== step), step];

/** Something about this step changed, so it may be asked again. */
function unasked(state: CaseState, step: string): CaseState['asked'] {
  if (!(step in state.asked)) return state.asked;
  const asked = { ...state.asked };
  delete asked[step];
  return asked;
}

/** Once there was smoke or fire with a danger, it stays so until that danger is cleared. */
const isSilent = (state: CaseState, { hazard, silent }: Extract<CaseEvent, { type: 'hazard-raised' }>): boolean =>
  silent || state.hazards.some((h) => h.hazard === hazard && !h.cleared && h.silent);
