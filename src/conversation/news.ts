/** What happened in a case while one of its people was away: the notes of the next answer. */
import { isNews, type CaseEvent } from '../case/events.js';
import type { CaseState } from '../case/state.js';
import type { Knowledge, Words } from '../knowledge/facts.js';
import type { Answer } from '../message/outgoing.js';
import { noteOf } from '../reply/note.js';

/** A question of the case's own that was answered meanwhile, or asked again, is told no more. */
export function notesOf(
  knowledge: Knowledge,
  words: Words,
  state: CaseState,
  events: readonly CaseEvent[],
): Answer['notes'] {
  const asks = events.filter((e) => e.type === 'followed-up');
  const stands = state.followUps.unanswered ? asks.at(-1) : undefined;
  return events
    .filter((e) => e.type !== 'followed-up' || e === stands)
    .filter(isNews)
    .map((e) => noteOf(knowledge, words, e));
}
