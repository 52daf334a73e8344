/**
 * What stands behind a button, a menu or a form: a version, a letter for what it does, and what it belongs to. It tells
 * nothing that would be believed: the question itself stands in the store, and whoever forges an id gains nothing.
 */
import { z } from 'zod';

const post = z.string().regex(/^[\w-]{1,25}$/);
const place = z.string().regex(/^\d{17,20}$/);
const code = z.string().regex(/^[2-9A-HJ-NP-Z]{8}$/);
const v = z.literal('1');

const parts = z.union([
  z.tuple([v, z.literal('a'), post, z.string().regex(/^\d{1,2}$/)]),
  z.tuple([v, z.enum(['s', 'n', 'm', 'y']), post]),
  z.tuple([v, z.enum(['w', 'p', 'o']), place]),
  z.tuple([v, z.literal('d'), code, z.enum(['claim', 'ask', 'hand-back', 'close', 'clear'])]),
]);

export type Tap =
  /** one of the choices of a question */
  | { readonly does: 'choose'; readonly post: string; readonly index: number }
  /** a menu of choices; "not sure" beside it; a form for a number; why it is asked */
  | { readonly does: 'menu' | 'not-sure' | 'measure' | 'why'; readonly post: string }
  /** a form for words; a person is asked for; both in this conversation */
  | { readonly does: 'write' | 'person'; readonly place: string }
  /** a form that opens a case from this channel */
  | { readonly does: 'open'; readonly place: string }
  | { readonly does: 'desk'; readonly caseId: string; readonly act: DeskTap };

type DeskTap = 'claim' | 'ask' | 'hand-back' | 'close' | 'clear';

const LETTERS = { menu: 's', 'not-sure': 'n', measure: 'm', why: 'y', write: 'w', person: 'p', open: 'o' } as const;
const MEANINGS = Object.fromEntries(Object.entries(LETTERS).map(([does, letter]) => [letter, does]));

export function idOf(tap: Tap): string {
  switch (tap.does) {
    case 'choose':
      return `1.a.${tap.post}.${tap.index}`;
    case 'desk':
      return `1.d.${tap.caseId}.${tap.act}`;
    case 'write':
    case 'person':
    case 'open':
      return `1.${LETTERS[tap.does]}.${tap.place}`;
    case 'menu':
    case 'not-sure':
    case 'measure':
    case 'why':
      return `1.${LETTERS[tap.does]}.${tap.post}`;
  }
}

/** Null for an id that this program never made. */
export function tapOf(id: string): Tap | null {
  if (id.length > 100) return null;
  const read = parts.safeParse(id.split('.'));
  if (!read.success) return null;
  const [, letter, of, more] = read.data;
  if (letter === 'a') return { does: 'choose', post: of, index: Number(more) };
  if (letter === 'd') return { does: 'desk', caseId: of, act: more };
  const does = MEANINGS[letter] as Exclude<Tap['does'], 'choose' | 'desk'>;
  return does === 'write' || does === 'person' || does === 'open' ? { does, place: of } : { does, post: of };
}
