/** A name and words that must not stand any longer in what others wrote and were told: a mark stands instead. */

export interface Terms {
  /** the name as a word of its own, never inside another word */
  readonly name: RegExp;
  readonly words: readonly string[];
}

const MARK = '…';
/** Texts of a person that are shorter than this tell nothing of them, and stand everywhere. */
const LEAST = 4;

export const termsOf = (person: string, words: readonly string[]): Terms => ({
  name: new RegExp(`(?<![\\p{L}\\p{N}])${escaped(person)}(?![\\p{L}\\p{N}])`, 'u'),
  words: words.filter((w) => w.length >= LEAST).sort((a, b) => b.length - a.length),
});

const escaped = (text: string): string => text.replaceAll(/[\\^$.*+?()[\]{}|/]/g, '\\$&');

/** JSON or plain text without the terms; its shape stays. */
export function redacted(kept: string | null, terms: Terms): string | null {
  if (kept === null) return null;
  let data: unknown;
  try {
    data = JSON.parse(kept);
  } catch {
    return withoutTerms(kept, terms);
  }
  return JSON.stringify(walk(data, '', terms));
}

/** Keys whose value may be a person's name or words although it is one word. */
const NAMES: ReadonlySet<string> = new Set(['claimedBy', 'case', 'span', 'text', 'fixed', 'parts', 'ref', 'contact']);

/** Any other single word is a term of the vocabulary, which happens to look like the name. */
function walk(value: unknown, key: string, terms: Terms): unknown {
  if (typeof value === 'string') return /\s/.test(value) || NAMES.has(key) ? withoutTerms(value, terms) : value;
  if (Array.isArray(value)) return value.map((item) => walk(item, key, terms));
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(Object.entries(value).map(([k, inner]) => [k, walk(inner, k, terms)]));
}

function withoutTerms(text: string, { name, words }: Terms): string {
  const bare = words.reduce((so, w) => so.replaceAll(w, MARK), text);
  return bare.replaceAll(new RegExp(name, 'gu'), MARK);
}
