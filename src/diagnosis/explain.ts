/** What the belief rests on: which facts disagree, and which ruled a cause out. Facts only; no words. */
import { beliefOf, type Belief, type Factor } from './belief.js';
import type { Evidence, Observation } from './evidence.js';
import type { Model } from './model.js';

/** Below this chance, given everything else, an observation does not fit. */
const UNEXPECTED = 0.03;

export interface Conflict {
  readonly one: Observation;
  readonly other: Observation | null;
}

/**
 * Observations that all the rest makes improbable, each with the one other observation without which it would fit
 * best. Impossible evidence shows here; it is survived, not dropped.
 */
export function conflicts(model: Model, evidence: readonly Evidence[], factors: readonly Factor[]): Conflict[] {
  const found: Conflict[] = [];
  evidence.forEach((item, i) => {
    const rest = evidence.filter((_, j) => j !== i);
    const fit = fits(item, beliefOf(model, rest, factors));
    if (fit >= UNEXPECTED) return;
    let best: { other: Observation | null; fit: number } = { other: null, fit: fit * 3 };
    rest.forEach((candidate, j) => {
      const without = fits(
        item,
        beliefOf(
          model,
          rest.filter((_, k) => k !== j),
          factors,
        ),
      );
      if (without > best.fit) best = { other: candidate.observation, fit: without };
    });
    const twin = found.some((c) => c.one === best.other && c.other === item.observation);
    if (best.other && !twin) found.push({ one: item.observation, other: best.other });
  });
  return found;
}

/** How well an item fits a belief: its mean ratio to the base row, where 1 is as likely as in a sound house. */
function fits(item: Evidence, belief: Belief): number {
  let mean = 0;
  for (let h = 0; h < belief.p.length; h += 1) mean += (belief.p[h] ?? 0) * Math.exp(item.logRatio[h] ?? 0);
  return mean;
}

/** Causes that were worth thinking of and are no longer, each with the observation that spoke most against it. */
export function ruledOut(
  model: Model,
  evidence: readonly Evidence[],
  belief: Belief,
  limits: { readonly below: number; readonly shareAbove: number },
): { fault: string; because: Observation }[] {
  const out: { fault: string; because: Observation; strength: number }[] = [];
  model.faults.forEach((fault, a) => {
    const prior = Math.exp(model.logPrior[a] ?? -Infinity);
    if (prior < limits.shareAbove || (belief.p[a] ?? 0) > limits.below) return;
    let against: Evidence | null = null;
    for (const item of evidence) if ((item.logRatio[a] ?? 0) < (against?.logRatio[a] ?? -0.7)) against = item;
    if (against) out.push({ fault, because: against.observation, strength: prior });
  });
  return out.sort((x, y) => y.strength - x.strength).map(({ fault, because }) => ({ fault, because }));
}
