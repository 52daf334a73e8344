/** Frost's places, kinds, systems and remedies in places.yaml are those of the other files. */
import type { Files } from '../load.js';
import type { Mistake } from '../mistake.js';
import { NEEDED_FINDINGS as F } from '../named.js';

export function checkPlaces(files: Files, mistakes: Mistake[]): void {
  const { data, file, line } = files['places.yaml'];
  const need = (path: readonly PropertyKey[], what: string, id: string, allowed: readonly string[]): void => {
    if (!allowed.includes(id))
      mistakes.push({
        file,
        line: line(path),
        problem: `no ${what} is called "${id}"`,
        mend: `Allowed: ${allowed.join(', ')}.`,
      });
  };
  const valuesOf = (finding: string): readonly string[] =>
    files.findings.find((p) => p.data.id === finding)?.data.values ?? [];
  for (const place of Object.keys(data.areas))
    need(['areas', place], `value of ${F.frostPlace}`, place, valuesOf(F.frostPlace));
  for (const kind of Object.keys(data.densities))
    need(['densities', kind], `value of ${F.frostKind}`, kind, valuesOf(F.frostKind));
  need(['usual', 'kind'], 'kind of frost with a density', data.usual.kind, Object.keys(data.densities));
  const systems = Object.keys(files['systems.yaml'].data);
  data.coil.systems.forEach((system, i) => need(['coil', 'systems', i], 'system', system, systems));
  const remedies = Object.keys(files['costs.yaml'].data.remedies);
  data.thaws.forEach((remedy, i) => need(['thaws', i], 'remedy', remedy, remedies));
}
