/** How a made-up case stands, and the two models in it: the one that is thought with, and the one that is so. */
import { newCase, type CaseState } from '../case/state.js';
import { evidenceOf, type Evidence } from '../diagnosis/evidence.js';
import { modelOf, type Model } from '../diagnosis/model.js';
import { decisionsFor, type Decision } from '../diagnosis/remedies.js';
import type { Knowledge, Words } from '../knowledge/facts.js';
import type { Caller } from './caller.js';

export interface Standing {
  readonly state: CaseState;
  readonly evidence: readonly Evidence[];
  /** effort so far, minutes */
  readonly minutes: number;
  /** causes not mended yet, by their index */
  readonly left: readonly number[];
  readonly visits: number;
  readonly wrongParts: number;
  /** a fault of the sealed circuit was kept from a certified technician, and paid for */
  readonly missed: boolean;
  /** the first decision: whether it mends a cause, whether nobody has to come for it */
  readonly first: { readonly remedy: string | null; readonly right: boolean; readonly alone: boolean } | null;
  /** how it ended; null while it goes on */
  readonly end: 'mended' | 'visit' | 'handed-over' | null;
}

/** What the planner believes. */
export interface Mind {
  readonly knowledge: Knowledge;
  readonly model: Model;
  readonly words: Words;
  /** what an answer says, null where nothing */
  readonly evidence: (step: string, value: string) => Evidence | null;
}

export function mindOf(knowledge: Knowledge, words: Words): Mind {
  const model = modelOf(knowledge);
  const said = new Map<string, Evidence | null>();
  return {
    knowledge,
    model,
    words,
    evidence(step, value) {
      const key = `${step}=${value}`;
      const known = said.get(key);
      if (known !== undefined) return known;
      const seen = { step, value, present: true, weights: null, confidence: 1 };
      const evidence = evidenceOf(knowledge, model, [seen])[0] ?? null;
      said.set(key, evidence);
      return evidence;
    },
  };
}

/** What is so: the minutes things really take, what mends what. */
export interface World {
  readonly of: Knowledge;
  readonly words: Words;
  readonly decisions: ReadonlyMap<string | null, Decision>;
  /** who comes for a cause, null where the person mends it alone */
  readonly comes: (fault: number) => string | null;
  readonly licensed: (fault: number) => boolean;
  readonly hasParts: (remedy: string) => boolean;
}

export function worldOf(knowledge: Knowledge, words: Words): World {
  const model = modelOf(knowledge);
  const decisions = decisionsFor(knowledge, model, words);
  const repairs = [...knowledge.faults.values()].map((f) => f.repair[words]);
  const comes = model.faults.map((_, i) => (decisions.find((d) => d.mends[i]) ?? decisions.at(-1))?.comes ?? null);
  return {
    of: knowledge,
    words,
    decisions: new Map(decisions.map((d) => [d.remedy, d])),
    comes: (fault) => comes[fault] ?? null,
    licensed: (fault) => comes[fault] === 'certified-technician',
    hasParts: (remedy) => repairs.some((r) => r.remedy === remedy && r.parts.length > 0),
  };
}

const AT = '2026-01-05T08:00:00Z';

export function atFirst(mind: Mind, caller: Caller): Standing {
  const { a, b } = mind.model.hypotheses[caller.cause]!;
  const standing: Standing = {
    state: newCase(AT, mind.words),
    evidence: [],
    minutes: 0,
    left: b < 0 ? [a] : [a, b],
    visits: mind.words === 'technician' ? 1 : 0,
    wrongParts: 0,
    missed: false,
    first: null,
    end: null,
  };
  // what is told unasked costs nothing
  return mind.knowledge.study.told[mind.words].reduce(
    (s, id) => (caller.tells(id) ? answered(mind, s, id, caller.shows(id)) : s),
    standing,
  );
}

/** With this answer; a value of null is "not sure". */
export function answered(mind: Mind, standing: Standing, id: string, value: string | null): Standing {
  const { state } = standing;
  const evidence = value === null ? null : mind.evidence(id, value);
  return {
    ...standing,
    evidence: evidence ? [...standing.evidence, evidence] : standing.evidence,
    state: { ...state, ...noted(mind, state, id, value) },
  };
}

function noted({ knowledge }: Mind, state: CaseState, id: string, value: string | null): Partial<CaseState> {
  if (knowledge.findings.has(id)) {
    const fact = { values: value === null ? [] : [value], denied: [], notSure: value === null, confidence: 1 };
    return { facts: { ...state.facts, [id]: { ...fact, from: 'answer', at: AT, by: '' } } };
  }
  if (value === null) return { unmeasurable: [...state.unmeasurable, id] };
  // only that it was taken: what it said stands in the evidence
  const { part = '', quantity = 'resistance' } = knowledge.readings.get(id) ?? {};
  const circumstances = { unit: null, atC: null, atAssumed: false, settledMinutes: null };
  const against = { sheet: null, rating: null, curve: null };
  const taken = { part, quantity, value: 1, at: AT, by: '', ...circumstances, ...against };
  return { readings: [...state.readings, taken] };
}
