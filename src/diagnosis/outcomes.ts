/** What a step may bring: the chance of each value under the hypotheses looked at, and what it does to the belief. */
import type { Knowledge, Step } from '../knowledge/facts.js';
import type { Belief } from './belief.js';
import { groupOf, together } from './evidence.js';
import type { Model } from './model.js';

export interface Outcome {
  /** P(value | hypothesis) */
  readonly chance: Float64Array;
  /** what the belief in each hypothesis is multiplied by */
  readonly factor: Float64Array;
}

export function outcomesOf(
  knowledge: Knowledge,
  model: Model,
  belief: Belief,
  step: Step,
  kept: readonly number[],
): Outcome[] {
  const rows = model.chances(step);
  const base = step.table?.base ?? new Float64Array(step.values.length);
  const plain = step.values.map((_, v) => Float64Array.from(kept, (h) => rows[v]?.[h] ?? 0));
  const chances = step.many ? shares(plain) : plain;
  return step.values.map((value, v) => {
    const chance = chances[v]!;
    const factor = plain[v]!;
    const group = groupOf(knowledge, step.id, value);
    const said = group ? belief.groups.get(group.id) : undefined;
    if (!group || !said) return { chance, factor };
    // a fact of this group is known already: the new one counts only as far as it says more
    const items = said.map(({ rank, logRatio }) => ({ rank, logRatio: Float64Array.from(kept, (h) => logRatio[h]!) }));
    const fresh = { rank: group.rank, logRatio: factor.map((p) => Math.log(Math.max(p, 1e-12) / base[v]!)) };
    const prior = Float64Array.from(kept, (h) => model.prior[h]!);
    const before = together(items, prior, model.repeated);
    const both = together([...items, fresh], prior, model.repeated);
    return { chance, factor: both.map((l, k) => Math.exp(l - before[k]!)) };
  });
}

/** For a finding with several values at once: the chance that each is the one named. */
function shares(chances: readonly Float64Array[]): Float64Array[] {
  const sums = chances.reduce(
    (sum, row) => sum.map((s, k) => s + (row[k] ?? 0)),
    new Float64Array(chances[0]?.length ?? 0),
  );
  return chances.map((row) => row.map((p, k) => (sums[k]! > 0 ? p / sums[k]! : 0)));
}

/** The mean of `worth` over a step's outcomes. `buffer` holds the belief after each, and is free again on return. */
export function after(
  outcomes: readonly Outcome[],
  b: Float64Array,
  buffer: Float64Array,
  worth: (after: Float64Array) => number,
): number {
  let total = 0;
  let mass = 0;
  const size = b.length;
  for (const { chance, factor } of outcomes) {
    let p = 0;
    let norm = 0;
    for (let k = 0; k < size; k += 1) {
      const here = b[k]!;
      p += here * chance[k]!;
      const w = here * factor[k]!;
      buffer[k] = w;
      norm += w;
    }
    if (p < 1e-9 || norm <= 0) continue;
    for (let k = 0; k < size; k += 1) buffer[k] = buffer[k]! / norm;
    total += p * worth(buffer);
    mass += p;
  }
  return mass > 0 ? total / mass : worth(b);
}
