/** Who did what at the desk, and when, in the order it happened; the caller's answers to the desk among it. */
import type { CaseEvent } from '../case/events.js';

export interface Done {
  readonly at: string;
  /** empty where it happened by itself, or where the person was erased */
  readonly by: string;
  readonly what: 'escalated' | 'claimed' | 'asked' | 'answered' | 'handed-back' | 'cleared' | 'overdue' | 'closed';
  /** the words written, the hazard cleared, the cause confirmed */
  readonly text: string | null;
}

export const historyOf = (events: readonly CaseEvent[]): Done[] => events.flatMap((e) => doneBy(e) ?? []);

function doneBy(e: CaseEvent): Done | null {
  switch (e.type) {
    case 'escalated':
      return { at: e.at, by: '', what: 'escalated', text: null };
    case 'claimed':
      return { at: e.at, by: e.by, what: 'claimed', text: null };
    case 'desk-asked':
      return { at: e.at, by: e.by, what: 'asked', text: e.text };
    case 'desk-answered':
      return { at: e.at, by: e.by, what: 'answered', text: e.text };
    case 'handed-back':
      return { at: e.at, by: e.by, what: 'handed-back', text: e.text };
    case 'hazard-cleared':
      return e.how === 'technician' ? { at: e.at, by: e.by, what: 'cleared', text: e.hazard } : null;
    case 'overdue':
      return { at: e.at, by: '', what: 'overdue', text: null };
    case 'cause-confirmed': {
      const parts = [e.cause, e.fixed, e.parts].filter((text) => text !== null);
      return { at: e.at, by: e.by, what: 'closed', text: parts.join('; ') };
    }
    default:
      return null;
  }
}
