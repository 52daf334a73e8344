/** A stretch of time as a person says it: hours up to two days, days beyond. */
import type { Knowledge, Words } from '../knowledge/facts.js';
import { say } from './say.js';

const FROM_DAYS = 48;

export function hoursInWords(knowledge: Knowledge, words: Words, hours: number): string {
  if (hours >= FROM_DAYS) return say(knowledge, words, 'when.days', { n: Math.round(hours / 24) });
  return say(knowledge, words, hours === 1 ? 'when.hour' : 'when.hours', { n: hours });
}

/** The time from one moment to a later one, at least an hour. */
export const untilInWords = (knowledge: Knowledge, words: Words, now: string, until: string): string =>
  hoursInWords(knowledge, words, Math.max(1, Math.round((Date.parse(until) - Date.parse(now)) / 3_600_000)));
