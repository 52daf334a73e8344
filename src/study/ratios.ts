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

export function ratiosOf(
  problems: Iterable<Problem>,
  policies: Readonly<Record<string, Policy>>,
  seen: () => void = () => undefined,
): Record<string, Ratios> {
  const by = new Map<string, number[]>(Object.keys(policies).map((name) => [name, []]));
  for (const problem of problems) {
    const { cost } = optimum(problem);
    for (const [name, policy] of Object.entries(policies)) by.get(name)?.push(expectedCost(problem, policy) / cost);
    seen();
  }
  return Object.fromEntries([...by].map(([name, ratios]) => [name, summary(ratios)]));
}

function summary(ratios: readonly number[]): Ratios {
  const sorted = [...ratios].sort((a, b) => a - b);
  const of = sorted.length;
  return {
    mean: sorted.reduce((s, r) => s + r, 0) / of,
    p95: sorted[Math.min(of - 1, Math.floor(0.95 * of))] ?? NaN,
    worst: sorted.at(-1) ?? NaN,
    of,
  };
}
