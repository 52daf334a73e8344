/**
 * A decision into what is said, chosen and shown. Every sentence comes from the knowledge folder by its key; this room
 * fills in names and numbers and puts paragraphs under each other. It never decides what to say.
 */
import type { Knowledge, Words } from '../knowledge/facts.js';

export type Slots = Readonly<Record<string, string | number>>;

/** One text of knowledge/words, filled. A missing key is a bug: the check of the folder lists all keys that code uses. */
export function say(knowledge: Knowledge, words: Words, key: string, slots: Slots = {}): string {
  const text = knowledge.words.get(key)?.[words];
  if (text === undefined) throw new Error(`no text is called "${key}" in knowledge/words`);
  return fill(text, slots);
}

/** Fills {names}; one that is not given stays empty. */
export function fill(text: string, slots: Slots): string {
  return text
    .replaceAll(/\{([a-zA-Z]+)\}/g, (_, name: string) => String(slots[name] ?? ''))
    .replaceAll(/[ \t]+$/gm, '')
    .trim();
}

/** Names in a row; facts of several words are set apart more clearly. */
export const list = (
  knowledge: Knowledge,
  words: Words,
  items: readonly string[],
  apart: 'list.and' | 'list.items' = 'list.and',
): string => items.join(`${say(knowledge, words, apart)} `);

/** Numbered lines. */
export function numbered(knowledge: Knowledge, words: Words, lines: readonly string[]): string {
  return lines.map((text, i) => say(knowledge, words, 'step', { n: i + 1, text })).join('\n');
}

export function bulleted(knowledge: Knowledge, words: Words, lines: readonly string[]): string {
  return lines.map((text) => say(knowledge, words, 'bullet', { text })).join('\n');
}

export const percent = (p: number): number => Math.round(p * 100);

/** A probability in words, for those who want no number. */
export function sureness(knowledge: Knowledge, words: Words, p: number): string {
  const key = p >= 0.9 ? 'sure.high' : p >= 0.7 ? 'sure.good' : p >= 0.5 ? 'sure.fair' : 'sure.low';
  return say(knowledge, words, key);
}
