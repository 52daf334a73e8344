/**
 * What repairs cost when nothing more is asked: tried one after another, the one that mends most for its minutes next,
 * until it works or an ending costs less. With one fault, a result seen at once, constant costs and no two repairs for
 * one fault this order, by p/C, is the best there is (Kalagnanam and Henrion 1990; Heckerman, Breese and Rommelse 1995).
 */
import { priceOf, type Move } from './look-ahead.js';
import type { Outcome } from './outcomes.js';

/** A way to end: its cost under each hypothesis, minutes. */
export interface Ending {
  readonly loss: Float64Array;
}

export interface RepairPlan {
  /** expected minutes to the end */
  readonly cost: number;
  /** the next repair, an index into the moves; -1 where ending now costs least */
  readonly next: number;
  /** the ending after the repairs, -1 where there is none */
  readonly ending: number;
}

const NOTHING: ReadonlySet<string> = new Set();

/** The outcome of a repair that worked; a question has none. */
export const mended = (move: Move): Outcome | undefined => move.outcomes.find((o) => o.ends);

/**
 * The plan from any belief over these moves; moves that are no repairs are passed over. Without a repair and without an
 * ending it costs 0: there is nothing to pay for.
 */
export function repairPlans(
  moves: readonly Move[],
  endings: readonly Ending[],
): (weights: Float64Array, sum: number) => RepairPlan {
  const repairs = moves.flatMap((move, index) => {
    const worked = mended(move);
    if (!worked?.ends || move.after.length > 0) return [];
    const { chance, ends } = worked;
    const at = Int32Array.from([...chance.keys()].filter((h) => chance[h]! > 0));
    return [{ index, price: priceOf(move, NOTHING), chance, ends, at }];
  });
  const count = repairs.length;
  const works = new Float64Array(count);
  const tried = new Uint8Array(count);
  const ending = new Float64Array(endings.length);
  let w = new Float64Array(0);

  const cheapest = (): number => {
    let best = -1;
    for (let e = 0; e < ending.length; e += 1) if (best < 0 || ending[e]! < ending[best]!) best = e;
    return best;
  };
  /** the repair with the greatest chance of working for its minutes, the first of equals; -1 where none can work */
  const next = (nobody: number): number => {
    let best = -1;
    let most = 0;
    for (let i = 0; i < count; i += 1) {
      if (tried[i] === 1 || works[i]! <= nobody || works[i]! <= most * repairs[i]!.price) continue;
      most = works[i]! / repairs[i]!.price;
      best = i;
    }
    return best;
  };
  return (weights, sum) => {
    w = w.length === weights.length ? w : new Float64Array(weights.length);
    w.set(weights);
    tried.fill(0);
    for (let i = 0; i < count; i += 1) {
      const { at, chance } = repairs[i]!;
      works[i] = 0;
      for (const h of at) works[i] = works[i]! + w[h]! * chance[h]!;
    }
    for (let e = 0; e < ending.length; e += 1) {
      const { loss } = endings[e]!;
      ending[e] = 0;
      for (let h = 0; h < w.length; h += 1) ending[e] = ending[e]! + w[h]! * loss[h]!;
    }
    let left = sum;
    let paid = 0;
    let first = -1;
    let end = cheapest();
    let least = { cost: end >= 0 ? ending[end]! : count > 0 ? Infinity : 0, next: -1, ending: end };
    const nobody = NOBODY * sum;
    for (let i = next(nobody); i >= 0; i = next(nobody)) {
      const { at, chance, ends, price, index } = repairs[i]!;
      tried[i] = 1;
      if (first < 0) first = index;
      paid += left * price;
      for (const h of at) {
        const worked = w[h]! * chance[h]!;
        paid += worked * ends[h]!;
        left -= worked;
        w[h] = w[h]! - worked;
        for (let j = 0; j < count; j += 1) if (tried[j] === 0) works[j] = works[j]! - worked * repairs[j]!.chance[h]!;
        for (let e = 0; e < ending.length; e += 1) ending[e] = ending[e]! - worked * endings[e]!.loss[h]!;
      }
      end = cheapest();
      const cost = paid + (end >= 0 ? ending[end]! : 0);
      // without an ending every repair that may work is tried
      if (end < 0 || cost < least.cost) least = { cost, next: first, ending: end };
    }
    return { ...least, cost: least.cost === Infinity ? 0 : least.cost / sum };
  };
}
const NOBODY = 1e-12;
