/** The desk's lines: a case of the list, what was done, why an act was refused. */
import type { HandedOver } from '../case/state.js';
import { NOT_FOUND, type Refusal } from '../desk/act.js';
import type { Done } from '../desk/history.js';
import type { Work } from '../desk/work.js';
import type { Knowledge } from '../knowledge/facts.js';
import { shownInLine } from '../message/shown.js';
import { list, say, type Slots } from '../reply/say.js';

const WORDS = 'technician';

export type Say = (key: string, slots?: Slots) => string;
export const sayer =
  (knowledge: Knowledge): Say =>
  (key, slots = {}) =>
    say(knowledge, WORDS, key, slots);

const MINUTE = 60_000;

/** A time since then, in the largest unit that says something. */
export function age(words: Say, since: string, now: Date): string {
  const minutes = Math.max(0, Math.floor((now.getTime() - Date.parse(since)) / MINUTE));
  if (minutes < 120) return words('when.minutes', { n: minutes });
  return minutes < 2880
    ? words('when.hours', { n: Math.floor(minutes / 60) })
    : words('when.days', { n: Math.floor(minutes / 1440) });
}

function stateLine(words: Say, e: HandedOver): string {
  const who = e.claimedBy ?? '';
  if (e.state === 'waiting') return words(e.overdue ? 'desk.state.overdue' : 'desk.state.waiting');
  if (e.answered) return words('desk.state.answered', { who });
  return words(e.asked === null ? 'desk.state.claimed' : 'desk.state.asked', { who });
}

const WIDTHS = { urgency: 8, kind: 17, age: 9 } as const;

export function workLine(words: Say, { caseId, escalation }: Work, now: Date): string {
  return words('desk.line', {
    code: caseId,
    urgency: words(`page.urgency.${escalation.urgency}`).toUpperCase().padEnd(WIDTHS.urgency),
    kind: words(`page.kind.${escalation.kind}`).padEnd(WIDTHS.kind),
    age: age(words, escalation.createdAt, now).padEnd(WIDTHS.age),
    state: stateLine(words, escalation),
  });
}

export const doneLine = (words: Say, { at, by, what, text }: Done): string =>
  words(text === null ? 'desk.done' : 'desk.done.text', {
    when: at.slice(0, 16).replace('T', ' '),
    who: shownInLine(by),
    what: words(`desk.did.${what}`),
    text: shownInLine(text ?? ''),
  }).replaceAll('  ', ' ');

/** One line that says why, and what to do. */
export function refusalLine(
  knowledge: Knowledge,
  caseId: string,
  refusal: Refusal,
  escalation: HandedOver | null,
  standing: readonly string[],
): string {
  const words = sayer(knowledge);
  const slots = { code: caseId, list: list(knowledge, WORDS, standing) };
  switch (refusal.why) {
    case 'taken':
      return words('desk.refused.taken', { who: refusal.by, when: (escalation?.since ?? '').slice(11, 16) });
    case 'unknown-cause': {
      const causes = [...knowledge.faultIds, NOT_FOUND];
      return words('desk.refused.unknown-cause', { name: refusal.cause, list: list(knowledge, WORDS, causes) });
    }
    case 'unknown-hazard':
      return words('desk.refused.unknown-hazard', { ...slots, name: refusal.hazard });
    case 'not-claimed':
    case 'nothing-open':
    case 'hazards-stand':
      return words(`desk.refused.${refusal.why}`, slots);
  }
}
