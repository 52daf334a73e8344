/** Likelihood rows: known values, words of the scale, sums. */
import type { Files } from '../load.js';
import type { Mistake } from '../mistake.js';
import { rowProblems } from '../rows.js';
import { stepPlaces } from './steps.js';

export function checkRows(files: Files, mistakes: Mistake[]): void {
  const scale = files['scale.yaml'].data;
  for (const step of stepPlaces(files)) {
    const table = step.likelihood;
    if (!table) continue;
    const report = (path: readonly PropertyKey[], problem: string): void => {
      mistakes.push({
        file: step.file,
        line: step.line(['likelihood', ...path]),
        problem: `${step.id}: ${problem}`,
        mend: step.many
          ? 'Each value is a chance of its own, from 0 to 1.'
          : 'Name only the values that differ, and let a full row sum to 1.',
      });
    };
    for (const p of rowProblems(table.default, step.values, step.many, scale, true))
      report(['default', p.key].filter(Boolean), p.problem);
    for (const [key, row] of Object.entries(table.rows))
      for (const p of rowProblems(row, step.values, step.many, scale, false))
        report(['rows', key, p.key].filter(Boolean), p.problem);
  }
}
