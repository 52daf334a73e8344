/**
 * Random small problems of one kind, to see how near a policy comes to the optimum: faults and one in ten "something
 * else", a sure repair for each, yes-or-no questions, and a service call that costs as much as all repairs.
 */
import type { Move } from '../diagnosis/look-ahead.js';
import type { Problem } from './problem.js';

const OTHER = 0.1;
const REPAIR = { from: 1, to: 10 } as const;
const QUESTION = { from: 0.3, to: 2 } as const;
const SELDOM = { from: 0.03, to: 0.2 } as const;
const OFTEN = { from: 0.8, to: 0.97 } as const;

export interface Size {
  readonly faults: number;
  readonly questions: number;
}
export const SIZES: readonly Size[] = [
  { faults: 4, questions: 3 },
  { faults: 6, questions: 4 },
  { faults: 8, questions: 5 },
];

export function randomModel({ faults, questions }: Size, random: () => number): Problem {
  const between = ({ from, to }: { readonly from: number; readonly to: number }): number =>
    from + (to - from) * random();
  const raw = Float64Array.from({ length: faults }, () => random());
  const total = raw.reduce((s, r) => s + r, 0);
  const prior = Float64Array.from({ length: faults + 1 }, (_, h) =>
    h < faults ? ((1 - OTHER) * raw[h]!) / total : OTHER,
  );
  const costs = Array.from({ length: faults }, () => between(REPAIR));
  const repairs = costs.map((cost, i) =>
    twoWay(
      cost,
      prior.map((_, h) => (h === i ? 1 : 0)),
      true,
    ),
  );
  const asked = Array.from({ length: questions }, () =>
    twoWay(
      between(QUESTION),
      prior.map(() => between(random() < 0.5 ? SELDOM : OFTEN)),
      false,
    ),
  );
  const service = costs.reduce((s, c) => s + c, 0);
  return { prior, moves: [...repairs, ...asked], endings: [{ loss: prior.map(() => service) }] };
}

/** A repair (its first outcome ends the case) or a question. */
function twoWay(minutes: number, chance: Float64Array, ends: boolean): Move {
  const not = chance.map((p) => 1 - p);
  const nothing = chance.map(() => 0);
  return {
    minutes,
    opens: new Map(),
    after: [],
    shuts: [],
    outcomes: [
      { chance, factor: chance, ...(ends ? { ends: nothing } : {}) },
      { chance: not, factor: not },
    ],
  };
}
