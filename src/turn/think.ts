/** Everything believed about a case right now: the readings judged, the evidence, the ranking, what does not fit. */
import type { CaseState } from '../case/state.js';
import { beliefOf, ranking, type Belief, type Factor, type Ranked } from '../diagnosis/belief.js';
import { evidenceOf, type Evidence } from '../diagnosis/evidence.js';
import { modelOf, type Model } from '../diagnosis/model.js';
import { observe, repairFactors } from '../diagnosis/observe.js';
import type { Knowledge, Words } from '../knowledge/facts.js';
import { judgeAll, type Judged } from '../readings/judge.js';

export interface Mind {
  readonly model: Model;
  readonly judged: readonly Judged[];
  readonly evidence: readonly Evidence[];
  readonly factors: readonly Factor[];
  readonly belief: Belief;
  readonly ranked: readonly Ranked[];
}

export function think(knowledge: Knowledge, state: CaseState, words: Words): Mind {
  const model = modelOf(knowledge);
  const judged = judgeAll(knowledge, state, words);
  const evidence = evidenceOf(knowledge, model, observe(knowledge, state, judged));
  const factors = repairFactors(knowledge, model, state);
  const belief = beliefOf(model, evidence, factors);
  return { model, judged, evidence, factors, belief, ranked: ranking(model, belief) };
}
