/** How far policies are from the optimum on many small problems. */
import { optimum } from './optimum.js';
import { expectedCost, type Policy, type Problem } from './problem.js';

/** Cost by the optimum's cost, over the problems: 1 is as good as can be. */
export interface Ratios {
  readonly mean: number;
  readonly p95: number;
  readonly worst: number;
  readonly of: number;
}

export const policyRatios = (problem: Problem, policies: Readonly<Record<string, Policy>>): Record<string, number> => {
  const { cost } = optimum(problem);
  return Object.fromEntries(
    Object.entries(policies).map(([name, policy]) => [name, expectedCost(problem, policy) / cost]),
  );
};

export function summary(all: readonly Readonly<Record<string, number>>[]): Record<string, Ratios> {
  return Object.fromEntries(
    Object.keys(all[0] ?? {}).map((name) => {
      const sorted = all.map((ratios) => ratios[name]!).sort((a, b) => a - b);
      const of = sorted.length;
      const mean = sorted.reduce((s, r) => s + r, 0) / of;
      return [name, { mean, p95: sorted[Math.min(of - 1, Math.floor(0.95 * of))]!, worst: sorted.at(-1)!, of }];
    }),
  );
}
