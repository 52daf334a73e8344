// Small problems written shortly: causes with chances, repairs with costs, questions with P(yes | cause).

import type { Move } from '../../src/diagnosis/look-ahead.js';
import type { Problem } from '../../src/study/problem.js';

export interface SmallProblem {
  readonly p: readonly number[];
  /** cost, which causes it mends (by default that of its place), minutes more where it mends */
  readonly repairs: readonly { readonly cost: number; readonly fixes?: readonly number[]; readonly extra?: number }[];
  readonly questions?: readonly { readonly cost: number; readonly yes: readonly number[] }[];
  /** what a call to the service costs; null: there is none */
  readonly service?: number | null;
}

const bare = { opens: new Map<string, number>(), after: [], shuts: [] };

export function repair(cost: number, works: readonly number[], extra = 0): Move {
  const chance = Float64Array.from(works);
  const not = chance.map((c) => 1 - c);
  return {
    ...bare,
    minutes: cost,
    outcomes: [
      { chance, factor: chance, ends: chance.map(() => extra) },
      { chance: not, factor: not },
    ],
  };
}

export function question(cost: number, yes: readonly number[]): Move {
  const one = Float64Array.from(yes);
  const two = one.map((c) => 1 - c);
  return {
    ...bare,
    minutes: cost,
    outcomes: [
      { chance: one, factor: one },
      { chance: two, factor: two },
    ],
  };
}

/** Repairs first, then questions, in the order given. */
export function small({ p, repairs, questions = [], service = null }: SmallProblem): Problem {
  return {
    prior: Float64Array.from(p),
    moves: [
      ...repairs.map(({ cost, fixes, extra }, i) =>
        repair(
          cost,
          p.map((_, h) => ((fixes ?? [i]).includes(h) ? 1 : 0)),
          extra,
        ),
      ),
      ...questions.map((q) => question(q.cost, q.yes)),
    ],
    endings: service === null ? [] : [{ loss: Float64Array.from(p, () => service) }],
  };
}
