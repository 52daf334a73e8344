/**
 * When a case asks by itself how it went: after a repair, after a thaw, and once when a person has gone quiet. Nothing
 * here keeps a timer: what is due follows from the case and the hour, so that a restart forgets and doubles nothing.
 */
import type { Knowledge } from '../knowledge/facts.js';
import type { FollowUp } from './events.js';
import { isEscalated } from './look.js';
import type { CaseState } from './state.js';

export type Due =
  | { readonly kind: 'ask'; readonly about: FollowUp; readonly place: number | null }
  /** the last question stayed unanswered for too long */
  | { readonly kind: 'close' };

interface Planned {
  readonly about: FollowUp;
  readonly place: number | null;
  /** ms since 1970 */
  readonly at: number;
}

const HOUR = 3_600_000;
const DAY = 24 * HOUR;

/**
 * What the case asks or does now, or null. Of several questions that have come due only the latest is asked.
 * @param now ISO 8601
 * @param machine minutes east of Greenwich here, for a person whose clock is not known
 */
export function due(knowledge: Knowledge, state: CaseState, now: string, machine: number): Due | null {
  const at = Date.parse(now);
  const asks = planned(knowledge, state).filter((p) => p.at <= at);
  const ask = asks.at(-1);
  if (ask) return isNight(knowledge, at, offsetOf(state, machine)) ? null : { kind: 'ask', ...plain(ask) };
  const end = endOf(knowledge, state);
  return end !== null && end <= at ? { kind: 'close' } : null;
}

/** When `due` has next something to say, in UTC, or null; never in the night. */
export function nextDue(knowledge: Knowledge, state: CaseState, machine: number): string | null {
  const [ask] = planned(knowledge, state);
  const end = endOf(knowledge, state);
  const next = ask ? afterNight(knowledge, ask.at, offsetOf(state, machine)) : end;
  return next === null ? null : new Date(next).toISOString();
}

/** The advice's own questions that are still to come, in hours after it: what a reader is promised. */
export const promised = (knowledge: Knowledge, state: CaseState): readonly { about: FollowUp; hours: number }[] => {
  const { advice } = state;
  return advice
    ? planned(knowledge, state)
        .filter((p) => p.place !== null)
        .map(({ about, at }) => ({ about, hours: Math.round((at - Date.parse(advice.at)) / HOUR) }))
    : [];
};

/** Hours after this advice until it is worth asking how it went. */
export const hoursUntilResult = (knowledge: Knowledge, { fault, words }: NonNullable<CaseState['advice']>): number =>
  knowledge.faults.get(fault)?.repair[words].askAfter?.value ?? knowledge.waits.afterRepair.value;

const plain = ({ about, place }: Planned): Pick<Planned, 'about' | 'place'> => ({ about, place });

const offsetOf = (state: CaseState, machine: number): number => state.offset?.minutes ?? machine;

/** The questions that stand out, the earliest first. */
function planned(knowledge: Knowledge, state: CaseState): Planned[] {
  const { followUps, advice } = state;
  if (state.version === 0 || followUps.stopped || isEscalated(state)) return [];
  if (state.closed && state.closedAs !== 'fixed') return [];
  const after = afterAdvice(knowledge, advice).slice(followUps.done);
  // what is fixed is cold again; whether its frost stays away only weeks can show
  if (state.closed) return after.filter((p) => p.about === 'frost');
  if (after.length > 0) return after;
  if (followUps.unanswered) return [];
  return [{ about: 'quiet', place: null, at: Date.parse(state.heardAt) + knowledge.waits.quiet.value * HOUR }];
}

function afterAdvice(knowledge: Knowledge, advice: CaseState['advice']): Planned[] {
  if (!advice) return [];
  const from = Date.parse(advice.at);
  const thaws = knowledge.places.thaws.includes(advice.remedy) ? knowledge.waits.afterThaw : [];
  return [
    { about: 'temperatures' as const, hours: hoursUntilResult(knowledge, advice) },
    ...thaws.map(({ value }) => ({ about: 'frost' as const, hours: value })),
  ].map(({ about, hours }, place) => ({ about, place, at: from + hours * HOUR }));
}

/** When a case whose last question stays unanswered is closed. */
function endOf(knowledge: Knowledge, state: CaseState): number | null {
  const { last, stopped, unanswered } = state.followUps;
  if (!last || !unanswered || stopped || state.closed || isEscalated(state)) return null;
  if (planned(knowledge, state).length > 0) return null;
  return Date.parse(last.at) + knowledge.waits.unanswered.value * HOUR;
}

/** Milliseconds since midnight on the person's clock. */
const timeOfDay = (at: number, offset: number): number => (((at + offset * 60_000) % DAY) + DAY) % DAY;

function isNight({ waits }: Knowledge, at: number, offset: number): boolean {
  const time = timeOfDay(at, offset);
  return time >= waits.night.from.value * HOUR || time < waits.night.to.value * HOUR;
}

function afterNight(knowledge: Knowledge, at: number, offset: number): number {
  if (!isNight(knowledge, at, offset)) return at;
  const time = timeOfDay(at, offset);
  const morning = knowledge.waits.night.to.value * HOUR;
  return at - time + morning + (time < morning ? 0 : DAY);
}
