/** What is said to a bot: words and taps, with a danger and a call for a person in each talk, so that cases are handed over. */
import type { Message } from './victim.js';

/** Messages in the talks that are held at once, before the next ones are opened. */
const LENGTH = 18;
const DANGER_AT = 10;
const WORDS = [
  'frost on the back wall of the freezer',
  'the fan is loud',
  'the ice cream is soft',
  'it is ten years old',
  'what do you know so far',
];

/** The n-th message of one teller. Every third is said in a second talk, which all tellers share. */
export function botMessageOf(teller: string, n: number): Message {
  const place = Math.floor(n / LENGTH);
  const conversation = `${n % 3 === 2 ? 'shared' : teller}-${place}`;
  const head = { id: `${teller}${n}`, conversation, from: { id: conversation, role: 'homeowner' } as const };
  const within = n % LENGTH;
  if (within === DANGER_AT) return { ...head, said: { text: 'there is a burning smell' } };
  if (within === DANGER_AT + 3) return { ...head, said: { text: 'a person please' } };
  if (n % 2) return { ...head, said: { tap: true } };
  return { ...head, said: { text: WORDS[(n / 2) % WORDS.length] ?? '' } };
}
