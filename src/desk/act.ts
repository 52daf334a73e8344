/**
 * An escalation's life at the senior's desk: waiting, claimed, asked back and answered, handed back, closed with the
 * confirmed cause, overdue. This room decides which act is allowed and what it changes, as events of the case; it never
 * diagnoses, and it never speaks to the caller itself.
 */
import type { CaseEvent } from '../case/events.js';
import { isEscalated, standingStops } from '../case/look.js';
import type { CaseState } from '../case/state.js';
import type { Knowledge } from '../knowledge/facts.js';

export type Act =
  | { readonly act: 'claim' }
  | { readonly act: 'ask'; readonly text: string }
  | { readonly act: 'hand-back'; readonly text: string | null }
  | { readonly act: 'close'; readonly cause: string; readonly fixed: string | null; readonly parts: string | null }
  | { readonly act: 'clear'; readonly hazard: string };

/** Why an act is refused; nothing has changed then. */
export type Refusal =
  | { readonly why: 'nothing-open' }
  | { readonly why: 'taken'; readonly by: string }
  | { readonly why: 'not-claimed' }
  | { readonly why: 'unknown-cause'; readonly cause: string }
  | { readonly why: 'unknown-hazard'; readonly hazard: string }
  | { readonly why: 'hazards-stand'; readonly hazards: readonly string[] };

export type Acted =
  { readonly ok: true; readonly events: readonly CaseEvent[] } | { readonly ok: false; readonly refusal: Refusal };

export const NOT_FOUND = 'not-found';

/** What this person's act does to the case: no event where it is done already. Only the one who claimed it goes on. */
export function actOn(
  knowledge: Knowledge,
  state: CaseState,
  act: Act,
  who: { readonly at: string; readonly by: string },
): Acted {
  const open = isEscalated(state) ? state.escalation : null;
  if (!open) return refuse({ why: 'nothing-open' });
  if (open.claimedBy !== null && open.claimedBy !== who.by) return refuse({ why: 'taken', by: open.claimedBy });
  if (act.act === 'claim') return done(open.claimedBy === who.by ? [] : [{ type: 'claimed', ...who }]);
  if (open.claimedBy === null) return refuse({ why: 'not-claimed' });
  switch (act.act) {
    case 'ask':
      return done([{ type: 'desk-asked', ...who, text: act.text }]);
    case 'hand-back':
      return done([{ type: 'handed-back', ...who, text: act.text }]);
    case 'clear': {
      const { hazard } = act;
      const stands = state.hazards.some((h) => h.hazard === hazard && !h.cleared);
      if (!stands) return refuse({ why: 'unknown-hazard', hazard });
      return done([{ type: 'hazard-cleared', ...who, hazard, how: 'technician' }]);
    }
    case 'close': {
      const { cause, fixed, parts } = act;
      if (cause !== NOT_FOUND && !knowledge.faults.has(cause)) return refuse({ why: 'unknown-cause', cause });
      const hazards = standingStops(state).map((h) => h.hazard);
      if (hazards.length > 0) return refuse({ why: 'hazards-stand', hazards });
      return done([
        { type: 'cause-confirmed', ...who, cause, fixed, parts },
        { type: 'escalation-ended', ...who, how: 'closed' },
        { type: 'closed', ...who, why: 'desk' },
      ]);
    }
  }
}

const done = (events: readonly CaseEvent[]): Acted => ({ ok: true, events });
const refuse = (refusal: Refusal): Acted => ({ ok: false, refusal });
