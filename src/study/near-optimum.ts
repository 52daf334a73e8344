/** How near each policy comes to the optimum on random small problems, size by size, from a seed. */
import { numbersFrom } from '../diagnosis/seeded.js';
import { randomModel, SIZES, type Size } from './random-models.js';
import { ratiosOf, type Ratios } from './ratios.js';
import { cheapestFirst, mostProbableFirst, myopic, ours, withoutQuestions } from './small-policies.js';

const POLICIES = {
  ours: ours(),
  myopic,
  'no-questions': withoutQuestions,
  'most-probable': mostProbableFirst,
  cheapest: cheapestFirst,
};

export interface NearOptimum extends Size {
  /** by the policy's name: its cost by the optimum's cost */
  readonly policies: Readonly<Record<string, Ratios>>;
}

/** `each`: problems of a size; `seen` is called after every one. */
export function nearOptimum(each: number, seed: number, seen: () => void): NearOptimum[] {
  const random = numbersFrom(seed);
  return SIZES.map((size) => {
    const problems = Array.from({ length: each }, () => randomModel(size, random));
    return { ...size, policies: ratiosOf(problems, POLICIES, seen) };
  });
}
export const sizes = SIZES.length;
