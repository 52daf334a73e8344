/** Exact posterior over the hypotheses, in log space; the same for any order of the evidence. */
import { byGroup, together, type Evidence, type Witnessed } from './evidence.js';
import type { Model } from './model.js';

export interface Belief {
  /** P(hypothesis | evidence), in the order of the model's hypotheses */
  readonly p: Float64Array;
  /** the items of each group of facts that witness the same thing */
  readonly groups: ReadonlyMap<string, readonly Witnessed[]>;
}

/** A factor on every hypothesis that is no table's: a repair that was made and did not help. */
export type Factor = (hypothesis: { readonly a: number; readonly b: number }) => number;

export function beliefOf(model: Model, evidence: readonly Evidence[], factors: readonly Factor[] = []): Belief {
  const size = model.hypotheses.length;
  const log = Float64Array.from(model.logPrior);
  for (const { group, logRatio } of evidence)
    if (group === null) for (let h = 0; h < size; h += 1) log[h] = (log[h] ?? 0) + (logRatio[h] ?? 0);
  const groups = byGroup(evidence);
  for (const items of groups.values()) {
    const total = together(items, model.prior, model.repeated);
    for (let h = 0; h < size; h += 1) log[h] = (log[h] ?? 0) + (total[h] ?? 0);
  }
  for (const factor of factors)
    model.hypotheses.forEach((hypothesis, h) => (log[h] = (log[h] ?? 0) + Math.log(factor(hypothesis))));
  return { p: softmax(log), groups };
}

/** exp and normalise; every finite input gives a distribution. */
function softmax(log: Float64Array): Float64Array {
  let top = -Infinity;
  for (const l of log) if (l > top) top = l;
  let sum = 0;
  const p = log.map((l) => {
    const e = Math.exp(l - top);
    sum += e;
    return e;
  });
  return p.map((e) => e / sum);
}

export interface Ranked {
  readonly fault: string;
  readonly probability: number;
}

/** All faults, most probable first; a pair's probability is shared equally between its two. Sums to 1. */
export function ranking(model: Model, belief: Belief): Ranked[] {
  const share = new Float64Array(model.faults.length);
  model.hypotheses.forEach(({ a, b }, h) => {
    const p = belief.p[h] ?? 0;
    if (b < 0) share[a] = (share[a] ?? 0) + p;
    else {
      share[a] = (share[a] ?? 0) + p / 2;
      share[b] = (share[b] ?? 0) + p / 2;
    }
  });
  return model.faults
    .map((fault, i) => ({ fault, probability: share[i] ?? 0 }))
    .sort((x, y) => y.probability - x.probability || (x.fault < y.fault ? -1 : 1));
}

/** Pairs above `least`, most probable first. */
export function likelyPairs(
  model: Model,
  belief: Belief,
  least: number,
): { faults: [string, string]; probability: number }[] {
  return model.hypotheses
    .flatMap(({ a, b }, h) => {
      const probability = belief.p[h] ?? 0;
      return b >= 0 && probability > least
        ? [{ faults: [model.faults[a] ?? '', model.faults[b] ?? ''] as [string, string], probability }]
        : [];
    })
    .sort((x, y) => y.probability - x.probability);
}
