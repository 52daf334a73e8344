/** The least expected cost that any policy can have, by dynamic programming over all answers: small problems only. */
import { atFirst, type Action, type Problem } from './problem.js';

/** So many standings are the most that are looked at; a problem that needs more is refused. */
const MOST = 3_000_000;
const NEVER = 1e-13;

export interface Optimum {
  /** expected minutes of the best policy */
  readonly cost: number;
  /** what the best policy does first */
  readonly first: Action;
}

/**
 * How a problem stands is known by what each move brought: the order does not matter, since outcomes are independent
 * given the cause. Weights are not normalised: cost and weights go up and down together.
 */
export function optimum(problem: Problem): Optimum {
  const { moves, endings } = problem;
  for (const { outcomes } of moves)
    if (outcomes.some((o) => o.chance !== o.factor)) throw new Error('outcomes must be independent given the cause');
  const size = problem.prior.length;
  const digits = moves.map((m) => m.outcomes.filter((o) => !o.ends).length + 1);
  const place = digits.map((_, i) => digits.slice(0, i).reduce((product, d) => product * d, 1));
  const before = moves.map((m) => bits(m.after));
  const shutBy = moves.map((_, i) => bits(moves.flatMap((m, j) => (m.shuts.includes(i) ? [j] : []))));
  const opens = moves.map((m) =>
    [...m.opens].map(([name, minutes]) => ({
      minutes,
      by: bits(moves.flatMap((other, j) => (other.opens.has(name) ? [j] : []))),
    })),
  );
  const stack = Array.from({ length: moves.length + 1 }, () => new Float64Array(size));
  const kept = new Map<number, number>();

  const best = (w: Float64Array, sum: number, done: number, depth: number, code: number): Optimum => {
    let cost = Infinity;
    let first: Action = { kind: 'end', ending: -1 };
    endings.forEach(({ loss }, ending) => {
      let own = 0;
      for (let h = 0; h < size; h += 1) own += w[h]! * loss[h]!;
      if (own < cost) [cost, first] = [own, { kind: 'end', ending }];
    });
    let stuck = endings.length === 0;
    for (let i = 0; i < moves.length; i += 1) {
      if ((done & (1 << i)) !== 0 || (before[i]! & ~done) !== 0 || (shutBy[i]! & done) !== 0) continue;
      stuck = false;
      let own = moves[i]!.minutes;
      for (const o of opens[i]!) if ((o.by & done) === 0) own += o.minutes;
      own *= sum;
      let digit = 0;
      const next = stack[depth + 1]!;
      for (const { chance, ends } of moves[i]!.outcomes) {
        if (own >= cost) break;
        let left = 0;
        for (let h = 0; h < size; h += 1) {
          const here = w[h]! * chance[h]!;
          if (ends) own += here * ends[h]!;
          next[h] = here;
          left += here;
        }
        if (ends) continue;
        digit += 1;
        if (left >= NEVER) own += value(next, left, done | (1 << i), depth + 1, code + digit * place[i]!);
      }
      if (own < cost) [cost, first] = [own, { kind: 'move', move: i }];
    }
    return { cost: stuck ? 0 : cost, first };
  };
  const value = (w: Float64Array, sum: number, done: number, depth: number, code: number): number => {
    let cost = kept.get(code);
    if (cost === undefined) {
      ({ cost } = best(w, sum, done, depth, code));
      kept.set(code, cost);
      if (kept.size > MOST) throw new Error('the problem is too large for its optimum');
    }
    return cost;
  };
  const { weights, sum } = atFirst(problem);
  stack[0]!.set(weights);
  return best(stack[0]!, sum, 0, 0, 0);
}

/** A set of moves as bits; -1 (never) stands for a move that cannot be made. */
const bits = (moves: readonly number[]): number => moves.reduce((all, m) => all | (m < 0 ? 1 << 31 : 1 << m), 0);
