/** The facts of a case as observations. Facts that tell nothing now (not sure, cold tests of a thawed unit) are left out. */
import type { CaseState } from '../case/state.js';
import { valueOf } from '../case/look.js';
import type { Knowledge } from '../knowledge/facts.js';
import { NEEDED_FINDINGS as F } from '../knowledge/named.js';
import type { Factor } from './belief.js';
import type { Observation } from './evidence.js';
import type { Model } from './model.js';

/** A judged reading, as far as a belief needs it: how likely it is under each state of the part; null tells nothing. */
export interface Weighed {
  readonly step: string;
  readonly weights: readonly number[] | null;
}

export function observe(knowledge: Knowledge, state: CaseState, readings: readonly Weighed[]): Observation[] {
  const out: Observation[] = [];
  const thawed = valueOf(state, F.thawed) === 'under-a-day';
  for (const finding of knowledge.findings.values()) {
    const fact = state.facts[finding.id];
    if (!fact || fact.notSure || !finding.table || (thawed && finding.needs.cold)) continue;
    const seen = { step: finding.id, weights: null, confidence: fact.confidence };
    if (finding.many) {
      for (const value of fact.values) out.push({ ...seen, value, present: true });
      for (const value of fact.denied) out.push({ ...seen, value, present: false });
    } else if (fact.values.length > 0) out.push({ ...seen, value: fact.values[0] ?? null, present: true });
    else for (const value of fact.denied) out.push({ ...seen, value, present: false });
  }
  for (const [step, weights] of combined(readings))
    out.push({ step, value: null, present: true, weights, confidence: 1 });
  return out;
}

/** Several readings of one thing at different temperatures speak together. */
function combined(readings: readonly Weighed[]): Map<string, number[]> {
  const by = new Map<string, number[]>();
  for (const { step, weights } of readings) {
    if (!weights) continue;
    const top = Math.max(...weights);
    const scaled = weights.map((w) => (top > 0 ? w / top : 1));
    const before = by.get(step);
    by.set(step, before ? before.map((w, i) => w * (scaled[i] ?? 0)) : scaled);
  }
  return by;
}

/** A repair that was made and did not help, or not enough, as a factor on every hypothesis. */
export function repairFactors(knowledge: Knowledge, model: Model, state: CaseState): Factor[] {
  const works = knowledge.costs.repairWorks;
  return state.failed.map(({ remedy, words, better }) => {
    const mends = model.faults.map((id) => knowledge.faults.get(id)?.repair[words].remedy === remedy);
    return ({ a, b }) => {
      const faults = b < 0 ? [a] : [a, b];
      const mended = faults.filter((i) => mends[i]).length;
      if (mended === faults.length) return 1 - works;
      if (mended === 0) return better ? 1 - works : 1;
      return better ? 1 : 1 - works / 2;
    };
  });
}
