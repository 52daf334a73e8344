/** What no single file can know: ids that lead nowhere, rows that do not add up, faults that nothing tells apart. */
import type { Files } from '../load.js';
import type { Mistake } from '../mistake.js';
import { checkIds } from './ids.js';
import { checkNeeded } from './needed.js';
import { checkPlaces } from './places.js';
import { checkRows } from './rows.js';
import { checkSeparation } from './separation.js';
import { checkSources } from './sources.js';

export function crossCheck(files: Files, mistakes: Mistake[]): void {
  checkIds(files, mistakes);
  checkNeeded(files, mistakes);
  checkPlaces(files, mistakes);
  checkSources(files, mistakes);
  const before = mistakes.length;
  checkRows(files, mistakes);
  if (mistakes.length === before) checkSeparation(files, mistakes);
}
