/** What a step may bring: the chance of each value under the hypotheses looked at, and what it does to the belief. */
import type { Knowledge, Step } from '../knowledge/facts.js';
import type { Belief } from './belief.js';
import { groupOf, together } from './evidence.js';
import type { Model } from './model.js';

export interface Outcome {
  /** P(value | hypothesis) */
  readonly chance: Float64Array;
  /** what the belief in each hypothesis is multiplied by; the same array as `chance` where nothing else speaks */
  readonly factor: Float64Array;
  /** where the case is over with this (it is mended): minutes still to pay under each hypothesis; otherwise left out */
  readonly ends?: Float64Array;
}

/** A belief need not sum to 1: what it sums to goes with it. */
export type Worth = (weights: Float64Array, sum: number) => number;

export function outcomesOf(
  knowledge: Knowledge,
  model: Model,
  belief: Belief,
  step: Step,
  kept: readonly number[],
): Outcome[] {
  const rows = model.chances(step);
  const base = step.table?.base ?? new Float64Array(step.values.length);
  const plain = step.values.map((_, v) => at(rows[v]!, kept));
  const chances = step.many ? shares(plain) : plain;
  return step.values.map((value, v) => {
    const chance = chances[v]!;
    const factor = plain[v]!;
    const group = groupOf(knowledge, step.id, value);
    const said = group ? belief.groups.get(group.id) : undefined;
    if (!group || !said) return { chance, factor };
    // a fact of this group is known already: the new one counts only as far as it says more
    const items = said.map(({ rank, logRatio }) => ({ rank, logRatio: at(logRatio, kept) }));
    const fresh = { rank: group.rank, logRatio: factor.map((p) => Math.log(Math.max(p, 1e-12) / base[v]!)) };
    const prior = at(model.prior, kept);
    const before = together(items, prior, model.repeated);
    const both = together([...items, fresh], prior, model.repeated);
    return { chance, factor: both.map((l, k) => Math.exp(l - before[k]!)) };
  });
}

/** The numbers of the hypotheses looked at. */
function at(all: Float64Array, kept: readonly number[]): Float64Array {
  const some = new Float64Array(kept.length);
  for (let k = 0; k < some.length; k += 1) some[k] = all[kept[k]!]!;
  return some;
}

/** For a finding with several values at once: the chance that each is the one named. */
function shares(chances: readonly Float64Array[]): Float64Array[] {
  const sums = new Float64Array(chances[0]?.length ?? 0);
  for (const row of chances) for (let k = 0; k < sums.length; k += 1) sums[k] = sums[k]! + row[k]!;
  return chances.map((row) => row.map((p, k) => (sums[k]! > 0 ? p / sums[k]! : 0)));
}

/**
 * The mean of `worth` over a step's outcomes, from a belief that sums to `sum`. `buffer` holds the belief after each,
 * and is free again on return. From `limit` on (worth is never negative) the rest is left out: it is too much already.
 */
export function after(
  outcomes: readonly Outcome[],
  b: Float64Array,
  sum: number,
  buffer: Float64Array,
  worth: Worth,
  limit = Infinity,
): number {
  let total = 0;
  let mass = 0;
  const size = b.length;
  const most = limit * sum;
  for (let o = 0; o < outcomes.length; o += 1) {
    const { chance, factor, ends } = outcomes[o]!;
    if (ends) {
      for (let k = 0; k < size; k += 1) {
        const p = b[k]! * chance[k]!;
        total += p * ends[k]!;
        mass += p;
      }
      continue;
    }
    let norm = 0;
    for (let k = 0; k < size; k += 1) {
      const w = b[k]! * factor[k]!;
      buffer[k] = w;
      norm += w;
    }
    let p = norm;
    if (chance !== factor) {
      p = 0;
      for (let k = 0; k < size; k += 1) p += b[k]! * chance[k]!;
    }
    if (p < NEVER * sum || norm <= 0) continue;
    total += p * worth(buffer, norm);
    mass += p;
    if (total > most) return Infinity;
  }
  return mass > 0 ? total / mass : worth(b, sum);
}
const NEVER = 1e-9;
