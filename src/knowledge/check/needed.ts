/** The entries that the program itself speaks of by name: without them it cannot start. */
import type { Files } from '../load.js';
import type { Mistake } from '../mistake.js';
import { NEEDED_FINDINGS, NEEDED_FAULTS } from '../named.js';

export function checkNeeded(files: Files, mistakes: Mistake[]): void {
  const report = (folder: string, id: string): void => {
    mistakes.push({
      file: `knowledge/${folder}/${id}.yaml`,
      line: 1,
      problem: `the program needs "${id}", and it is missing`,
      mend: 'Put the file back.',
    });
  };
  const findings = new Set(files.findings.map((p) => p.data.id));
  const faults = new Set(files.faults.map((p) => p.data.id));
  for (const id of Object.values(NEEDED_FINDINGS)) if (!findings.has(id)) report('findings', id);
  for (const id of NEEDED_FAULTS) if (!faults.has(id)) report('faults', id);
}
