/** What stands on the page, said back to the caller at a hand-over, so that a mistake is mended before anyone drives out. */
import { standingStops } from '../case/look.js';
import type { CaseState } from '../case/state.js';
import type { Knowledge, Words } from '../knowledge/facts.js';
import type { UnitSystem } from '../physics/units.js';
import { factInWords, measuredInWords, nameOf } from './names.js';
import { list, say } from './say.js';

/** More than this nobody reads back; the page has all of it. */
const MOST = 8;

export function readBack(knowledge: Knowledge, words: Words, state: CaseState, units: UnitSystem): string {
  const dangers = standingStops(state).map(({ hazard }) =>
    say(knowledge, words, 'read-back.danger', { name: knowledge.hazards.get(hazard)?.name[words] ?? hazard }),
  );
  const told = state.order.flatMap((step) => {
    const fact = state.facts[step];
    if (fact) return fact.notSure || fact.values.length === 0 ? [] : [factInWords(knowledge, words, step, fact)];
    const reading = knowledge.readings.get(step);
    const taken = state.readings.findLast((r) => r.part === reading?.part && r.quantity === reading.quantity);
    const name = nameOf(knowledge, words, step);
    const value = taken && measuredInWords(knowledge, words, taken, units);
    return value ? [say(knowledge, words, 'echo.item', { name, value })] : [];
  });
  const items = [...dangers, ...told.slice(-MOST)];
  return items.length > 0
    ? say(knowledge, words, 'read-back', { list: list(knowledge, words, items, 'list.items') })
    : say(knowledge, words, 'read-back.nothing');
}
