/** Everything believed about a case as the escalation summary: for the answer, the page and the desk alike. */
import type { CaseState } from '../case/state.js';
import { likelyPairs } from '../diagnosis/belief.js';
import { candidatesOf } from '../diagnosis/candidates.js';
import { conflicts, ruledOut } from '../diagnosis/explain.js';
import { escalationOf } from '../handoff/summary.js';
import type { Knowledge, Step } from '../knowledge/facts.js';
import type { Escalation } from '../message/outgoing.js';
import { think, type Mind } from './think.js';

const PAIR_ABOVE = 0.05;
const RULED_OUT_SHARE = 0.01;

export const pairsOf = (mind: Mind): { faults: [string, string]; probability: number }[] =>
  likelyPairs(mind.model, mind.belief, PAIR_ABOVE);

/** Null where nothing was handed over. */
export function summaryOf(
  knowledge: Knowledge,
  state: CaseState,
  caseId: string,
  mind: Mind = think(knowledge, state, 'technician'),
): Escalation | null {
  const useless = new Set(mind.judged.filter((j) => j.weights === null).map((j) => j.step));
  const open = candidatesOf(knowledge, state, () => ({ kind: 'open' }), useless).map((c) => c.step);
  const telling = open.filter((s) => s.kind === 'symptom' && s.needs.skill !== 'look');
  return escalationOf(knowledge, state, {
    caseId,
    ranking: mind.ranked,
    pairs: pairsOf(mind),
    judged: mind.judged,
    ruledOut: ruledOut(mind.model, mind.evidence, mind.belief, {
      below: knowledge.costs.ruledOutBelow,
      shareAbove: RULED_OUT_SHARE,
    }),
    conflicts: conflicts(mind.model, mind.evidence, mind.factors),
    notChecked: mostTelling(mind, telling),
  });
}

/** Steps by how much they would move the leading causes. */
function mostTelling(mind: Mind, steps: readonly Step[]): readonly Step[] {
  const spread = (step: Step): number => {
    const rows = mind.model.chances(step);
    let total = 0;
    for (const row of rows) {
      let mean = 0;
      for (let h = 0; h < row.length; h += 1) mean += (mind.belief.p[h] ?? 0) * (row[h] ?? 0);
      for (let h = 0; h < row.length; h += 1) total += (mind.belief.p[h] ?? 0) * Math.abs((row[h] ?? 0) - mean);
    }
    return total;
  };
  return [...steps]
    .map((step) => ({ step, s: spread(step) }))
    .sort((a, b) => b.s - a.s)
    .map(({ step }) => step);
}
