/** What follows from how a repair went, and from a step back: events; nothing is deleted. */
import type { CaseEvent } from '../case/events.js';
import { standingStops } from '../case/look.js';
import { readingId, type CaseState } from '../case/state.js';
import { NEEDED_FINDINGS as F } from '../knowledge/named.js';
import type { Withdrawn } from '../message/outgoing.js';
import type { Speaker } from '../understand/propose.js';

export type Result = 'fixed' | 'better' | 'no-change';

export function resultOf(value: string | undefined): Result | null {
  return value === 'fixed' || value === 'better' || value === 'no-change' ? value : null;
}

/** How it went: fixed closes the case (never over a stop hazard); anything else counts against the remedy. */
export function afterResult(state: CaseState, result: Result | null, who: Speaker): CaseEvent[] {
  if (result === null) return [];
  if (result === 'fixed') {
    if (standingStops(state).length > 0) return [];
    const ended: CaseEvent[] =
      state.escalation && state.escalation.state !== 'closed'
        ? [{ type: 'escalation-ended', ...who, how: 'fixed' }]
        : [];
    return [...ended, { type: 'closed', ...who, why: 'fixed' }];
  }
  if (!state.advice) return [];
  const { remedy, words } = state.advice;
  return [
    { type: 'repair-failed', ...who, remedy, words, better: result === 'better' },
    { type: 'withdrawn', ...who, finding: F.result, reading: null, values: [] },
  ];
}

/** One step back: the latest fact is taken out, and may be asked again. */
export function stepBack(
  state: CaseState,
  who: Speaker,
): { event: CaseEvent; name: string; withdrawn: readonly Withdrawn[] } | null {
  const latest = state.order.at(-1);
  if (!latest) return null;
  const isReading = !(latest in state.facts);
  const values = isReading
    ? state.readings.filter((r) => readingId(r) === latest).map((r) => r.value)
    : (state.facts[latest]?.values ?? []);
  return {
    name: latest,
    withdrawn: values.map((value) => ({
      finding: isReading ? null : latest,
      reading: isReading ? latest : null,
      value,
    })),
    event: {
      type: 'withdrawn',
      ...who,
      finding: isReading ? null : latest,
      reading: isReading ? latest : null,
      values: [],
    },
  };
}
