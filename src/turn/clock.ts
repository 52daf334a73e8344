/** The person's clock, as they told it ("UTC-7") or as the front end's times show it, so that nobody is asked at night. */
import type { CaseEvent } from '../case/events.js';
import type { CaseState } from '../case/state.js';
import type { Incoming } from '../message/incoming.js';
import { utcOffsetIn } from '../understand/utc-offset.js';

/** What a person told goes before what a front end writes. */
export function clockOf(state: CaseState, { said, from, at }: Incoming, moment: string): CaseEvent[] {
  const told = said.kind === 'text' ? utcOffsetIn(said.text) : null;
  const minutes = told ?? (at === null || state.offset?.told ? null : offsetOf(at));
  if (minutes === null || (state.offset?.minutes === minutes && told === null)) return [];
  return [{ type: 'offset-known', at: moment, by: from.id, minutes, told: told !== null }];
}

/** Minutes east of Greenwich of an ISO 8601 time: 0 for Z, null where it has no offset. */
function offsetOf(iso: string): number | null {
  if (iso.endsWith('Z')) return 0;
  const [, sign, hours, minutes] = /([+-])(\d\d):?(\d\d)$/.exec(iso) ?? [];
  return sign ? (sign === '-' ? -1 : 1) * (Number(hours) * 60 + Number(minutes)) : null;
}
