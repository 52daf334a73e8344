/** When the next defrost is to be expected, as far as what starts it is known. */
import type { CaseState } from '../case/state.js';
import { valueOf } from '../case/look.js';
import { NEEDED_FINDINGS as F } from '../knowledge/named.js';
import { runHoursBetweenDefrosts } from '../physics/defrost.js';
import type { Reader } from './ice-amount.js';
import { say } from './say.js';

/** One sentence: by the family's timer, or by the rule for variable controls; null where neither is known. */
export function nextDefrostLine({ knowledge, words }: Reader, state: CaseState): string | null {
  const control = valueOf(state, F.defrostControl);
  if (control === 'electronic-control') {
    const [shortest, longest] = [knowledge.defrost.shortest.value, knowledge.defrost.longest.value];
    const hours = Math.round(runHoursBetweenDefrosts(shortest, longest));
    return say(knowledge, words, 'defrost.next.control', { hours, shortest, longest });
  }
  const timer = state.family === null ? undefined : knowledge.units.get(state.family)?.timer;
  return control !== 'manual-defrost' && timer
    ? say(knowledge, words, 'defrost.next.timer', { hours: timer.coolingHours.value })
    : null;
}
