/**
 * The cost still to come where the look-ahead ends: never more than deciding there, never less than knowing the cause.
 * Between the two it counts the bits about the decision that are missing, at the price per bit of the questions that
 * are left, as far as those can bring them.
 */
import type { Beyond } from './look-ahead.js';
import { after, type Outcome, type Worth } from './outcomes.js';
import type { Decision } from './remedies.js';

export interface Leaf extends Beyond {
  /** the decision with the least expected cost; an index into the decisions given */
  readonly decide: (b: Float64Array) => { readonly cost: number; readonly decision: number };
}

type Priced = Pick<Decision, 'remedy' | 'loss'>;

/** A step that tells less than this many bits is no way to the decision. */
const LEAST_BITS = 0.01;
const COUNTED = 6;
/** Steps tell partly the same: so much of the sum of their bits is counted on. */
const OVERLAP = 0.6;
const NEGLIGIBLE = 1e-4;

export function leafOf(
  decisions: readonly Priced[],
  kept: readonly number[],
  b0: Float64Array,
  steps: readonly { readonly price: number; readonly outcomes: readonly Outcome[] }[],
): Leaf {
  const size = kept.length;
  const useful = usefulDecisions(decisions, kept, b0);
  const count = useful.length;
  const losses = new Float64Array(count * size);
  for (let i = 0; i < count; i += 1) {
    const { loss } = decisions[useful[i]!]!;
    for (let k = 0; k < size; k += 1) losses[i * size + k] = loss[kept[k]!]!;
  }
  const right = Int32Array.from(kept, (_, k) => cheapestFor(losses, count, size, k));
  const least = Float64Array.from(kept, (_, k) => losses[right[k]! * size + k]!);
  // what each decision costs more than the right one; and at least that, by which is the right one
  const extra = losses.map((loss, at) => loss - least[at % size]!);
  const extraAtLeast = new Float64Array(count * count).fill(Infinity);
  for (let i = 0; i < count; i += 1)
    for (let k = 0; k < size; k += 1) {
      const at = i * count + right[k]!;
      extraAtLeast[at] = Math.min(extraAtLeast[at]!, extra[i * size + k]!);
    }
  for (let at = 0; at < extraAtLeast.length; at += 1) if (extraAtLeast[at] === Infinity) extraAtLeast[at] = 0;

  const mass = new Float64Array(count);
  /** fills `mass`: how probable it is that each decision is the right one, times the sum; gives the greatest */
  const weigh = (w: Float64Array): number => {
    mass.fill(0);
    for (let k = 0; k < size; k += 1) mass[right[k]!] = mass[right[k]!]! + w[k]!;
    let top = 0;
    for (let i = 1; i < count; i += 1) if (mass[i]! > mass[top]!) top = i;
    return top;
  };
  const entropy = (sum: number): number => {
    let bits = 0;
    for (let i = 0; i < count; i += 1) {
      const p = mass[i]! / sum;
      if (p > 0) bits -= p * Math.log2(p);
    }
    return bits;
  };
  /** the least extra cost of any decision, times the sum; a decision is looked at only if it may be the least */
  const leastExtra = (w: Float64Array, first: number): number => {
    let best = 0;
    for (let k = 0, at = first * size; k < size; k += 1) best += w[k]! * extra[at + k]!;
    for (let i = 0; i < count; i += 1) {
      if (i === first) continue;
      let cost = 0;
      for (let j = 0, at = i * count; j < count && cost < best; j += 1) cost += mass[j]! * extraAtLeast[at + j]!;
      if (cost >= best) continue;
      cost = 0;
      for (let k = 0, at = i * size; k < size; k += 1) cost += w[k]! * extra[at + k]!;
      if (cost < best) best = cost;
    }
    return best;
  };
  const missing: Worth = (w, sum) => {
    weigh(w);
    return entropy(sum);
  };
  const decide = (b: Float64Array): { cost: number; decision: number } => {
    let cost = Infinity;
    let best = 0;
    for (let i = 0, at = 0; i < count; i += 1, at += size) {
      let sum = 0;
      for (let k = 0; k < size; k += 1) sum += b[k]! * losses[at + k]!;
      if (sum < cost) {
        cost = sum;
        best = i;
      }
    }
    return { cost, decision: useful[best]! };
  };

  const all = missing(b0, 1);
  const buffer = new Float64Array(size);
  const told = steps
    .map((s) => ({ bits: all - after(s.outcomes, b0, 1, buffer, missing), price: s.price }))
    .filter((s) => s.bits > LEAST_BITS)
    .sort((x, y) => x.price / x.bits - y.price / y.bits)
    .slice(0, COUNTED);
  const bits = told.reduce((sum, s) => sum + s.bits, 0);
  const perBit = bits > 0 ? told.reduce((sum, s) => sum + s.price, 0) / bits : 0;

  const known: Worth = (w, sum) => {
    let cost = 0;
    for (let k = 0; k < size; k += 1) cost += w[k]! * least[k]!;
    return cost / sum;
  };
  return {
    decide,
    known,
    worth(w, sum) {
      const mended = known(w, sum);
      const now = mended + leastExtra(w, weigh(w)) / sum;
      if (bits <= 0) return now;
      const open = entropy(sum);
      const reached = open > 0 ? Math.min(1, (bits * OVERLAP) / open) : 1;
      return Math.min(now, reached * (mended + perBit * open) + (1 - reached) * now);
    },
  };
}

/** Decisions that are the best under some hypothesis that counts, and handing over. */
function usefulDecisions(decisions: readonly Priced[], kept: readonly number[], b: Float64Array): number[] {
  const useful = new Set<number>();
  kept.forEach((h, k) => {
    if (b[k]! <= NEGLIGIBLE && k > 0) return;
    let best = 0;
    decisions.forEach((d, i) => {
      if (d.loss[h]! < decisions[best]!.loss[h]!) best = i;
    });
    useful.add(best);
  });
  decisions.forEach((d, i) => {
    if (d.remedy === null) useful.add(i);
  });
  return [...useful].sort((x, y) => x - y);
}

function cheapestFor(losses: Float64Array, count: number, size: number, k: number): number {
  let best = 0;
  for (let i = 1; i < count; i += 1) if (losses[i * size + k]! < losses[best * size + k]!) best = i;
  return best;
}
