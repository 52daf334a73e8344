/** Who was sent, against who was needed: nobody, a technician, a certified one. */
import type { Knowledge } from '../knowledge/facts.js';
import type { Outcome } from './outcome.js';

const LEVELS = ['nobody', 'technician', 'licensed'] as const;
type Level = (typeof LEVELS)[number];

export interface Sent {
  readonly given: Level;
  readonly needed: Level;
  readonly verdict: 'right' | 'over' | 'under';
}

/**
 * Null where it cannot be judged: no fault was confirmed, a danger decided, or the person wanted a person. Those are
 * no judgements of the cause.
 */
export function sentOf(knowledge: Knowledge, outcome: Outcome): Sent | null {
  const needed = neededFor(knowledge, outcome);
  const given = givenIn(outcome);
  if (needed === null || given === null) return null;
  const more = LEVELS.indexOf(given) - LEVELS.indexOf(needed);
  return { given, needed, verdict: more === 0 ? 'right' : more > 0 ? 'over' : 'under' };
}

function neededFor(knowledge: Knowledge, { cause, words }: Outcome): Level | null {
  const fault = knowledge.faults.get(cause ?? '');
  if (!fault?.concludable) return null;
  if (fault.licensed) return 'licensed';
  const { action } = fault.repair[words];
  return action === 'licensed-technician' ? 'licensed' : action === 'technician-visit' ? 'technician' : 'nobody';
}

function givenIn({ escalation }: Outcome): Level | null {
  switch (escalation?.kind) {
    case undefined:
      return 'nobody';
    case 'sealed-system':
      return 'licensed';
    case 'visit':
    case 'stuck':
      return 'technician';
    case 'hazard':
    case 'asked-for-person':
      return null;
  }
}
