/**
 * Made-up callers drawn from the trade's whole model, or from one whose likelihoods are off: each policy asks the same
 * caller, who answers everything, until it decides; what it costs is what the planner counts, in minutes.
 */
import { newCase, type CaseState, type Measured } from '../case/state.js';
import { beliefOf, ranking, type Belief, type Ranked } from '../diagnosis/belief.js';
import { appliesTo, candidatesOf, openedIn } from '../diagnosis/candidates.js';
import { evidenceOf, type Observation } from '../diagnosis/evidence.js';
import { modelOf } from '../diagnosis/model.js';
import { plan, type Candidate } from '../diagnosis/plan.js';
import { decisionsFor, type Decision } from '../diagnosis/remedies.js';
import type { Knowledge, Step, Words } from '../knowledge/facts.js';
import { permit } from '../safety/permit.js';

const AT = '2026-01-05T08:00:00Z';

/** What a policy sees: the program's own choice, what it could ask (cheapest first) and what it could decide. */
export interface Seen {
  readonly belief: Belief;
  readonly ranked: readonly Ranked[];
  readonly candidates: readonly Candidate[];
  readonly decisions: readonly Decision[];
  readonly faults: readonly string[];
  readonly ours: () => ReturnType<typeof plan>;
}
export type TradePolicy = (seen: Seen) => Step | Decision;

/** A caller: what is wrong (a hypothesis of the model), and how each step would turn out. */
export interface Caller {
  readonly cause: number;
  readonly answer: (step: Step) => string;
}

export interface Played {
  readonly minutes: number;
  readonly questions: number;
  /** what was decided mends a cause */
  readonly right: boolean;
  /** somebody else has to come: a hand-over or a repair by others */
  readonly handedOver: boolean;
  /** the chance given to the likeliest cause, and whether it is one */
  readonly told: { readonly chance: number; readonly came: boolean };
}

/** `off`: the standard deviation of the natural logarithm of each likelihood against the model's; 0: as it stands. */
export function drawCaller(knowledge: Knowledge, random: () => number, off: number): Caller {
  const model = modelOf(knowledge);
  const cause = pick(model.prior, random());
  const answers = new Map<string, string>();
  for (const step of knowledge.steps.values()) {
    const row = model.chances(step).map((chance) => chance[cause]! * Math.exp(off * normal(random)));
    answers.set(step.id, step.values[pick(row, random())] ?? '');
  }
  return { cause, answer: ({ id }) => answers.get(id) ?? '' };
}

export function play(knowledge: Knowledge, words: Words, caller: Caller, policy: TradePolicy): Played {
  const model = modelOf(knowledge);
  const decisions = decisionsFor(knowledge, model, words);
  const observations: Observation[] = [];
  let state: CaseState = newCase(AT, words);
  let minutes = 0;
  let questions = 0;
  for (;;) {
    const belief = beliefOf(model, evidenceOf(knowledge, model, observations));
    const ranked = ranking(model, belief);
    const now = state;
    // a technician makes ready what a test needs; a homeowner leaves alone what needs more than eyes and hands
    const gate = (step: Step): { kind: 'open' } | { kind: 'shut' } => {
      const { kind } = permit(knowledge, now, words, step);
      return { kind: kind === 'allow' || (kind === 'first' && words === 'technician') ? 'open' : 'shut' };
    };
    const all = candidatesOf(knowledge, state, gate, new Set());
    const ours = (): ReturnType<typeof plan> => plan(knowledge, model, belief, ranked, all, decisions);
    const candidates = all.filter((c) => c.after.length === 0).sort((x, y) => priceOf(x) - priceOf(y));
    const next = policy({ belief, ranked, candidates, decisions, faults: model.faults, ours });
    if ('mends' in next) {
      const { a, b } = model.hypotheses[caller.cause]!;
      const top = ranked[0];
      const isCause = (i: number): boolean => i === a || i === b;
      const fault = model.faults.find((_, i) => next.mends[i]);
      const action = fault === undefined ? null : knowledge.faults.get(fault)?.repair[words].action;
      return {
        minutes: minutes + next.loss[caller.cause]!,
        questions,
        right: next.mends.some((m, i) => m && isCause(i)),
        handedOver: action !== 'self-repair' && action !== 'monitor',
        told: { chance: top?.probability ?? 0, came: isCause(model.faults.indexOf(top?.fault ?? '')) },
      };
    }
    const before = appliesTo(knowledge, state, next);
    const step = (before.kind === 'first' ? knowledge.findings.get(before.finding) : undefined) ?? next;
    const opened = openedIn(knowledge, state);
    minutes += step.minutes + knowledge.costs.perQuestion + step.waitHours * knowledge.costs.waitHour;
    for (const name of new Set(step.needs.open))
      if (!opened.has(name)) minutes += knowledge.access.get(name)?.minutes ?? 0;
    questions += 1;
    const value = caller.answer(step);
    observations.push({ step: step.id, value, present: true, weights: null, confidence: 1 });
    state = answered(state, step, value);
  }
}

const priceOf = ({ minutes, opens }: Candidate): number => [...opens.values()].reduce((s, m) => s + m, minutes);

function answered(state: CaseState, step: Step, value: string): CaseState {
  const questions = state.questions + 1;
  const fact = { values: [value], denied: [], notSure: false, confidence: 1, from: 'answer', at: AT, by: '' } as const;
  if (step.about === 'finding') return { ...state, questions, facts: { ...state.facts, [step.id]: fact } };
  // only that it was taken; what it said is observed by itself
  const [part = '', quantity = ''] = step.id.split('.');
  const bare = {
    unit: null,
    atC: null,
    atAssumed: false,
    settledMinutes: null,
    sheet: null,
    rating: null,
    curve: null,
  };
  const taken: Measured = { ...bare, part, quantity: quantity as Measured['quantity'], value: 1, at: AT, by: '' };
  return { ...state, questions, readings: [...state.readings, taken] };
}

function pick(weights: ArrayLike<number>, random: number): number {
  let left = random * Array.from(weights).reduce((s, w) => s + w, 0);
  for (let i = 0; i < weights.length; i += 1) {
    left -= weights[i]!;
    if (left < 0) return i;
  }
  return weights.length - 1;
}

/** A standard normal number from two of 0 to 1 (Box and Muller 1958). */
const normal = (random: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
