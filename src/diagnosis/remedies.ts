/**
 * What can be decided, and what each decision costs under each hypothesis, in minutes of the person's effort.
 * Faults that share a remedy share a decision, so that no question is spent on telling them apart.
 */
import type { Knowledge, Words } from '../knowledge/facts.js';
import type { Model } from './model.js';

/** A decision: a remedy of the knowledge folder, or (null) handing over without a known cause. */
export interface Decision {
  readonly remedy: string | null;
  /** which faults it mends, by their index */
  readonly mends: readonly boolean[];
  /** cost under each hypothesis, minutes */
  readonly loss: Float64Array;
}

const HALF = 0.5;

export function decisionsFor(knowledge: Knowledge, model: Model, words: Words): readonly Decision[] {
  const byWords = caches.get(knowledge) ?? new Map<Words, readonly Decision[]>();
  caches.set(knowledge, byWords);
  let decisions = byWords.get(words);
  if (!decisions) byWords.set(words, (decisions = build(knowledge, model, words)));
  return decisions;
}
const caches = new WeakMap<Knowledge, Map<Words, readonly Decision[]>>();

function build(knowledge: Knowledge, model: Model, words: Words): Decision[] {
  const { costs } = knowledge;
  const faults = model.faults.map((id) => knowledge.faults.get(id));
  const remedyOf = faults.map((f) => (f?.concludable ? f.repair[words].remedy : null));
  const costOf = remedyOf.map((r) => (r === null ? costs.handOver[words] : costs.remedy(r, words)));
  const action = faults.map((f) => (f?.concludable ? f.repair[words].action : 'technician-visit'));
  const licensed = action.map((a) => a === 'licensed-technician');
  /** who comes for each fault, or null where the person does it alone */
  const comes = faults.map((f) =>
    f?.concludable && f.repair[words].action !== 'self-repair' && f.repair[words].action !== 'monitor'
      ? f.repair[words].who
      : null,
  );
  const decisions: Decision[] = [];
  for (const remedy of new Set(remedyOf)) {
    if (remedy === null) continue;
    const mends = remedyOf.map((r) => r === remedy);
    const own = costs.remedy(remedy, words);
    // in vain at home a seal washed costs less than a day's thaw; a technician has to come again whatever was done
    const wrong =
      words === 'homeowner' ? Math.min(costs.wrong[words], 2 * own + costs.wrongAtLeast) : costs.wrong[words];
    const reaches = mends.some((m, i) => m && licensed[i]);
    const who = comes[mends.indexOf(true)] ?? null;
    // a technician who comes for another cause mends this one too, if need be on a second trip
    const extra = (i: number): number => {
      const missed = licensed[i] && !reaches ? costs.licensedMissed : 0;
      if (who === 'appliance-technician' && comes[i] === who) return costs.otherPart + missed;
      if (who === 'appliance-technician' && comes[i] === null) return missed;
      return wrong + (costOf[i] ?? 0) + missed;
    };
    const loss = Float64Array.from(model.hypotheses, ({ a, b }) => {
      const left = (b < 0 ? [a] : [a, b]).filter((i) => !mends[i]);
      const found = b >= 0 && left.length === 1 ? HALF : 1;
      return own + left.reduce((sum, i) => sum + extra(i) * found, 0);
    });
    decisions.push({ remedy, mends, loss });
  }
  decisions.push({
    remedy: null,
    mends: faults.map(() => false),
    loss: Float64Array.from(model.hypotheses, () => costs.handOver[words]),
  });
  return decisions;
}
