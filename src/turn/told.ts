/** What is said once a case, marked as said: the words before the first hands-on step. */
import type { CaseEvent } from '../case/events.js';
import type { CaseState } from '../case/state.js';
import type { Next } from './decide.js';

const KEY = 'before-hands-on';

export function toldBy(next: Next, state: CaseState, at: string): CaseEvent[] {
  if (state.told.includes(KEY)) return [];
  const handsOn = (next.kind === 'ask' && next.warnings.length > 0) || next.kind === 'conclude';
  return handsOn ? [{ type: 'told', at, key: KEY }] : [];
}
