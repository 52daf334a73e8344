/** Who did what at the desk, and when, in the order it happened; the caller's answers to the desk among it. */
import type { CaseEvent } from '../case/events.js';

const DID = {
  escalated: 'escalated',
  claimed: 'claimed',
  'desk-asked': 'asked',
  'desk-answered': 'answered',
  'handed-back': 'handed-back',
  'hazard-cleared': 'cleared',
  overdue: 'overdue',
  'cause-confirmed': 'closed',
} as const;

export interface Done {
  readonly at: string;
  /** empty where it happened by itself, or where the person was erased */
  readonly by: string;
  readonly what: (typeof DID)[keyof typeof DID];
  /** the words written, the hazard cleared, the cause confirmed with what fixed it */
  readonly text: string | null;
}

export const historyOf = (events: readonly CaseEvent[]): Done[] => events.flatMap((e) => doneBy(e) ?? []);

function doneBy(e: CaseEvent): Done | null {
  const what = (DID as Readonly<Record<string, Done['what']>>)[e.type];
  // a person who takes a danger back does nothing at the desk
  if (!what || (e.type === 'hazard-cleared' && e.how !== 'technician')) return null;
  return { at: e.at, by: 'by' in e ? e.by : '', what, text: textOf(e) };
}

function textOf(e: CaseEvent): string | null {
  if ('text' in e) return e.text;
  if (e.type === 'hazard-cleared') return e.hazard;
  if (e.type !== 'cause-confirmed') return null;
  return [e.cause, e.fixed, e.parts].filter((text) => text !== null).join('; ');
}
