/**
 * Made-up callers against policies: how near ours comes to the best possible, and how far it is ahead of what people do.
 * This room draws, plays and counts; it never serves a case, and what it needs of chance is an argument.
 *
 * This file: a small decision problem written out whole, how it stands midway, and what a policy costs on it, exactly.
 */
import type { Move } from '../diagnosis/look-ahead.js';
import type { Ending } from '../diagnosis/repair-order.js';

/** Questions, tests and repairs as moves whose outcomes are independent given the cause; ways to end. */
export interface Problem {
  readonly prior: Float64Array;
  readonly moves: readonly Move[];
  readonly endings: readonly Ending[];
}

/** Midway: the belief times what led here, and what was done. */
export interface Standing {
  readonly weights: Float64Array;
  readonly sum: number;
  readonly done: readonly number[];
}

export type Action =
  { readonly kind: 'move'; readonly move: number } | { readonly kind: 'end'; readonly ending: number };

/** What is done next from here. */
export type Policy = (problem: Problem, standing: Standing) => Action;

export const atFirst = ({ prior }: Problem): Standing => ({
  weights: prior,
  sum: prior.reduce((s, p) => s + p, 0),
  done: [],
});

/** The moves that can be made now, by their index: not made, not shut by one made, and what comes before them made. */
export function openMoves({ moves }: Problem, done: readonly number[]): number[] {
  return moves.flatMap((m, i) =>
    done.includes(i) || m.after.some((j) => !done.includes(j)) || done.some((j) => moves[j]!.shuts.includes(i))
      ? []
      : [i],
  );
}

/** Minutes for a move now: what an earlier one opened stays open. */
function minutesOf({ moves }: Problem, done: readonly number[], move: number): number {
  const { minutes, opens } = moves[move]!;
  let all = minutes;
  for (const [name, cost] of opens) if (!done.some((j) => moves[j]!.opens.has(name))) all += cost;
  return all;
}

/** Minutes of an ending from here, times the standing's sum. */
function endCost({ endings }: Problem, weights: Float64Array, ending: number): number {
  const loss = endings[ending]?.loss;
  return loss ? weights.reduce((s, w, h) => s + w * loss[h]!, 0) : 0;
}

/** Expected minutes of a policy from the start, over everything that can happen. */
export function expectedCost(problem: Problem, policy: Policy): number {
  const from = (standing: Standing): number => {
    const { weights, sum, done } = standing;
    if (sum < NEVER) return 0;
    const action = policy(problem, standing);
    if (action.kind === 'end') return endCost(problem, weights, action.ending);
    const then = [...done, action.move];
    return problem.moves[action.move]!.outcomes.reduce(
      (total, outcome) => total + afterOutcome(weights, outcome, (next) => from({ ...next, done: then })),
      sum * minutesOf(problem, done, action.move),
    );
  };
  return from(atFirst(problem));
}
const NEVER = 1e-13;

/** What an outcome adds: what is still to pay where it ends the case, else what follows from the belief after it. */
function afterOutcome(
  weights: Float64Array,
  { chance, ends }: Move['outcomes'][number],
  follow: (next: { weights: Float64Array; sum: number }) => number,
): number {
  const next = new Float64Array(weights.length);
  let sum = 0;
  let paid = 0;
  for (let h = 0; h < next.length; h += 1) {
    const w = weights[h]! * chance[h]!;
    next[h] = w;
    sum += w;
    if (ends) paid += w * ends[h]!;
  }
  return ends ? paid : follow({ weights: next, sum });
}
