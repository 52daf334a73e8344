/** A text as the answer to what was just asked: a number of the list, a label, yes or no, not sure. */
import type { Knowledge, Words } from '../knowledge/facts.js';
import { FILLERS, tokenise } from '../message/text.js';
import type { Talk } from './talk.js';

/** What was asked, as far as an answer depends on it: the values offered, in the order shown. */
export interface Offered {
  readonly values: readonly string[];
  readonly labels: readonly string[];
  readonly many: boolean;
}

export function offeredBy(knowledge: Knowledge, finding: string, words: Words): Offered | null {
  const f = knowledge.findings.get(finding);
  if (!f) return null;
  return { values: f.values, labels: f.values.map((v) => f.choices[v]?.[words] ?? v), many: f.many };
}

const ORDINALS: Readonly<Record<string, number>> = {
  first: 1,
  '1st': 1,
  second: 2,
  '2nd': 2,
  third: 3,
  '3rd': 3,
  fourth: 4,
  '4th': 4,
  fifth: 5,
  '5th': 5,
  sixth: 6,
  '6th': 6,
  last: -1,
  latter: -1,
  former: 1,
};
const NUMBERS: Readonly<Record<string, number>> = {
  one: 1,
  two: 2,
  three: 3,
  four: 4,
  five: 5,
  six: 6,
  seven: 7,
  eight: 8,
  nine: 9,
};

/** The values a text picks out of the list; 'not-sure' is one of them. Null where it picks none. */
export function pickedFrom(text: string, offered: Offered, talk: Talk): readonly string[] | null {
  const plain = text.trim().toLowerCase();
  const listed = [...offered.values, 'not-sure'];
  if (listed.includes(plain)) return [plain];
  const number = numbered(plain);
  if (number !== null) {
    const picked = number.map((n) => listed[n === -1 ? offered.values.length - 1 : n - 1]);
    if (picked.length > 0 && picked.every((v) => v !== undefined)) return picked;
  }
  const yesNo = offered.values.length === 2 && offered.values.includes('yes') && offered.values.includes('no');
  if (talk.acts.has('not-sure')) return ['not-sure'];
  if (talk.acts.has('both') && offered.many && offered.values.length >= 2) return null;
  if (yesNo && talk.acts.has('yes') !== talk.acts.has('no')) return [talk.acts.has('yes') ? 'yes' : 'no'];
  const neither = talk.acts.has('neither') && offered.values.includes('none');
  if (neither) return ['none'];
  return byLabel(plain, offered);
}

/** "2", "number 3", "the second one", "1 and 3"; only where the message is little else. */
function numbered(plain: string): number[] | null {
  const words = plain
    .replaceAll(/[^a-z0-9\s]/g, ' ')
    .split(/\s+/)
    .filter(Boolean);
  if (words.length === 0 || words.length > 6) return null;
  const out: number[] = [];
  let said = false;
  for (const word of words) {
    if (word in ORDINALS) {
      out.push(ORDINALS[word] ?? 0);
      said = true;
    } else if (/^\d$/.test(word)) out.push(Number(word));
    else if (word in NUMBERS && !(said && word === 'one')) out.push(NUMBERS[word] ?? 0);
    else if (!FILLERS.has(word) && !['number', 'option', 'choice', 'no', 'please'].includes(word)) return null;
  }
  return out.length ? out : null;
}

/** The one label that shares most of its words with the text, and no other nearly as much. */
function byLabel(plain: string, offered: Offered): readonly string[] | null {
  const content = (t: string): Set<string> =>
    new Set(
      tokenise(t)
        .filter((x) => !x.filler || x.negator)
        .map((x) => x.stem),
    );
  const said = content(plain);
  if (said.size === 0 || said.size > 12) return null;
  const scores = offered.labels.map((label, i) => {
    const words = content(label);
    for (const w of content(offered.values[i]?.replaceAll('-', ' ') ?? '')) words.add(w);
    let shared = 0;
    for (const w of said) if (words.has(w)) shared += 1;
    return shared / said.size;
  });
  const best = Math.max(...scores);
  const winners = scores.filter((s) => s > best - 0.15).length;
  return best >= 0.6 && winners === 1 ? [offered.values[scores.indexOf(best)] ?? ''] : null;
}
