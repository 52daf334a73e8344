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
  /** minutes of the remedy itself, and on top where it was the wrong one */
  readonly own: number;
  readonly wrong: number;
  /** who comes for it, or null where the person does it alone */
  readonly comes: string | null;
  /** cost under each hypothesis, minutes */
  readonly loss: Float64Array;
}

/** Found while mending the other, the second of two faults costs half as much. */
export const FOUND_BESIDE = 0.5;
const ANYONE = 'appliance-technician';

/** `failed`: remedies that were made and did not help; they are no decision any more, and where theirs is the only cause it needs somebody else. */
export function decisionsFor(
  knowledge: Knowledge,
  model: Model,
  words: Words,
  failed: readonly string[] = [],
): readonly Decision[] {
  const kept = caches.get(knowledge) ?? new Map<string, readonly Decision[]>();
  caches.set(knowledge, kept);
  const key = [words, ...[...failed].sort()].join(' ');
  let decisions = kept.get(key);
  if (!decisions) {
    if (kept.size >= MOST_KEPT) kept.clear();
    kept.set(key, (decisions = build(knowledge, model, words, failed)));
  }
  return decisions;
}
const caches = new WeakMap<Knowledge, Map<string, readonly Decision[]>>();
const MOST_KEPT = 200;

function build(knowledge: Knowledge, model: Model, words: Words, failed: readonly string[]): Decision[] {
  const { costs } = knowledge;
  const faults = model.faults.map((id) => knowledge.faults.get(id));
  const remedyOf = faults.map((f) => (f?.concludable ? f.repair[words].remedy : null));
  const costOf = remedyOf.map((r) =>
    r === null || failed.includes(r) ? costs.handOver[words] : costs.remedy(r, words),
  );
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
    if (remedy === null || failed.includes(remedy)) continue;
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
      if (who === ANYONE && comes[i] === who) return costs.otherPart + missed;
      if (who === ANYONE && comes[i] === null) return missed;
      return wrong + costOf[i]! + missed;
    };
    const loss = Float64Array.from(model.hypotheses, ({ a, b }) => {
      // of two faults the one whose remedy was made is mended: what is left is the other
      const left = (b < 0 ? [a] : [a, b]).filter((i) => !mends[i] && !(b >= 0 && failed.includes(remedyOf[i] ?? '')));
      const found = b >= 0 && left.length === 1 ? FOUND_BESIDE : 1;
      return own + left.reduce((sum, i) => sum + extra(i) * found, 0);
    });
    decisions.push({ remedy, mends, own, wrong, comes: who, loss });
  }
  decisions.push({
    remedy: null,
    mends: faults.map(() => false),
    own: costs.handOver[words],
    wrong: 0,
    comes: ANYONE,
    loss: Float64Array.from(model.hypotheses, () => costs.handOver[words]),
  });
  return decisions;
}
