/**
 * Two causes with different remedies must differ somewhere: at least one observation that is twice as likely under
 * the one as under the other. Otherwise no talk can ever tell them apart, and the person pays for the wrong one.
 */
import type { Files } from '../load.js';
import type { Mistake } from '../mistake.js';
import { fullTable } from '../rows.js';
import { stepPlaces } from './steps.js';

const AT_LEAST = 2;

export function checkSeparation(files: Files, mistakes: Mistake[]): void {
  const scale = files['scale.yaml'].data;
  const faults = files.faults.map((p) => p.data);
  const tables = stepPlaces(files).flatMap((s) =>
    s.likelihood ? [fullTable(s.likelihood, s.values, s.many, scale, faults).rows] : [],
  );
  faults.forEach((a, i) => {
    for (let j = i + 1; j < faults.length; j += 1) {
      const b = faults[j];
      if (!b || !a.concludable || !b.concludable || a.repair.technician.remedy === b.repair.technician.remedy) continue;
      const apart = tables.some((rows) => [...(rows[i] ?? [])].some((p, v) => ratio(p, rows[j]?.[v] ?? p) >= AT_LEAST));
      if (!apart)
        mistakes.push({
          file: files.faults[i]?.file ?? 'knowledge/faults',
          line: 1,
          problem: `nothing tells "${a.id}" from "${b.id}"`,
          mend: `Give one finding or reading rows for the two that differ by ${AT_LEAST} to 1, or the same remedy.`,
        });
    }
  });
}

function ratio(p: number, q: number): number {
  return p > q ? p / q : q / p;
}
