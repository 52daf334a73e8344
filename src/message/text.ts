/**
 * The plainest reading of a text: its normal form, its words with their stems, where a clause ends, and what stands
 * under a negation. It does not know what any word means.
 */
import PorterStemmer from 'natural/lib/natural/stemmers/porter_stemmer.js';

export interface Token {
  /** as it is read: lower case, contractions opened, no accents */
  readonly word: string;
  readonly stem: string;
  /** place in the text as it came */
  readonly start: number;
  readonly end: number;
  /** counts up at . ! ? ; : line breaks, "but" and its like; a phrase never crosses it */
  readonly clause: number;
  readonly negator: boolean;
  readonly filler: boolean;
  /** a comma stands before it */
  readonly comma: boolean;
}

const CONTRACTIONS: Readonly<Record<string, readonly string[]>> = {
  "can't": ['can', 'not'],
  cant: ['can', 'not'],
  cannot: ['can', 'not'],
  "won't": ['will', 'not'],
  wont: ['will', 'not'],
  "ain't": ['is', 'not'],
  aint: ['is', 'not'],
  dont: ['do', 'not'],
  doesnt: ['does', 'not'],
  didnt: ['did', 'not'],
  isnt: ['is', 'not'],
  arent: ['are', 'not'],
  wasnt: ['was', 'not'],
  werent: ['were', 'not'],
  havent: ['have', 'not'],
  hasnt: ['has', 'not'],
  couldnt: ['could', 'not'],
  wouldnt: ['would', 'not'],
  shouldnt: ['should', 'not'],
  "y'all": ['you'],
  thats: ['that', 'is'],
  whats: ['what', 'is'],
  theres: ['there', 'is'],
  heres: ['here', 'is'],
  its: ['it', 'is'],
  im: ['i', 'am'],
  ive: ['i', 'have'],
  n: ['and'],
  '&': ['and'],
  '+': ['and'],
  u: ['you'],
  w: ['with'],
  'w/': ['with'],
  'w/o': ['without'],
  wo: ['without'],
  doesn: ['does', 'not'],
};

const NEGATORS = new Set([
  'not',
  'no',
  'never',
  'without',
  'nobody',
  'none',
  'nothing',
  'neither',
  'nor',
  'nope',
  'nowhere',
  'hardly',
]);

/** Words that carry nothing of their own: left out of a phrase, and let pass between the words of one. */
export const EMPTY = new Set(
  (
    'the a an my our your his her their this that these those it is are was were be been being am has have had do does did will would ' +
    'can could i we you he she they me us them of in at to for with from by into onto about and so there here'
  ).split(' '),
);

/** Words that may stand between two words of a phrase; in a phrase itself they count. */
export const FILLERS = new Set([
  ...EMPTY,
  ...(
    'on or then just really very quite pretty kind sort bit little some any all also too again still now like um uh er well got get gets ' +
    'getting one thing stuff up out over as if which who maybe perhaps probably think guess seem seems looks look looking always sometimes keeps keep'
  ).split(' '),
]);

const BREAKS = new Set([
  'but',
  'though',
  'although',
  'however',
  'except',
  'whereas',
  'instead',
  'while',
  'because',
  'cos',
  'cuz',
  'rather',
]);

const stems = new Map<string, string>();
const MAX_STEMS = 50_000;

export function stemOf(word: string): string {
  let stem = stems.get(word);
  if (stem === undefined) {
    stem = /^[a-z]{3,40}$/.test(word) ? PorterStemmer.stem(word) : word;
    if (stems.size >= MAX_STEMS) stems.clear();
    stems.set(word, stem);
  }
  return stem;
}

/** Same length as the text that came, so that places in it stay true. */
export function normalForm(text: string): string {
  let out = '';
  for (const char of text) {
    const plain = char
      .normalize('NFKD')
      .replace(/[\u0300-\u036f]/g, '')
      .toLowerCase();
    const kept = SAME[char] ?? (plain.length === char.length ? plain : char.length === 1 ? (plain[0] ?? ' ') : '  ');
    out += kept.length === char.length ? kept : kept.padEnd(char.length).slice(0, char.length);
  }
  return out;
}
const SAME: Readonly<Record<string, string>> = {
  '\u2019': "'",
  '\u2018': "'",
  '\u02bc': "'",
  '`': "'",
  '\u00b4': "'",
  '\u201c': '"',
  '\u201d': '"',
  '\u2013': '-',
  '\u2014': '-',
  '\u2212': '-',
  '\u200b': ' ',
  '\u200c': ' ',
  '\u200d': ' ',
  '\ufeff': ' ',
  '\u2060': ' ',
  '\u00ad': ' ',
  '\u202e': ' ',
  '\u202d': ' ',
  '\u200e': ' ',
  '\u200f': ' ',
  '\u00a0': ' ',
  '\u00b0': '\u00b0',
  '\u03a9': '\u03a9',
  '\u2126': '\u03a9',
  '\u00bd': '\u00bd',
  '\u00bc': '\u00bc',
  '\u00be': '\u00be',
};

const WORD = /[a-z]+(?:'[a-z]+)*|w\/o?|\d+(?:[.,]\d+)*|[&+]|[.!?;:\n]+|,/g;

/** The words of a text with their clauses. Grows linearly with the text. */
export function tokenise(text: string): Token[] {
  const normal = normalForm(text);
  const tokens: Token[] = [];
  let clause = 0;
  let comma = false;
  for (const match of normal.matchAll(WORD)) {
    const found = match[0];
    const start = match.index;
    const end = start + found.length;
    if (/^[.!?;:\n]/.test(found)) {
      clause += 1;
      continue;
    }
    if (found === ',') {
      comma = true;
      continue;
    }
    if (BREAKS.has(found)) clause += 1;
    for (const word of opened(found)) {
      const negator = NEGATORS.has(word);
      tokens.push({
        word,
        stem: stemOf(word),
        start,
        end,
        clause,
        negator,
        filler: FILLERS.has(word) || BREAKS.has(word),
        comma,
      });
      comma = false;
    }
  }
  return tokens;
}

function opened(word: string): readonly string[] {
  const known = CONTRACTIONS[word];
  if (known) return known;
  if (word.endsWith("n't")) return [word.slice(0, -3), 'not'];
  const apostrophe = word.indexOf("'");
  if (apostrophe > 0) {
    const tail = word.slice(apostrophe + 1);
    const head = word.slice(0, apostrophe);
    if (tail === 's') return [head, 'is'];
    if (tail === 're') return [head, 'are'];
    if (tail === 've') return [head, 'have'];
    if (tail === 'll') return [head, 'will'];
    if (tail === 'm') return [head, 'am'];
    if (tail === 'd') return [head, 'would'];
    return [head + tail];
  }
  return [word];
}

const NOT_NEGATING = new Set([
  'only',
  'just',
  'merely',
  'simply',
  'sure',
  'doubt',
  'wonder',
  'idea',
  'stop',
  'stopping',
  'help',
  'matter',
]);
const SCOPE = 7;

/**
 * Whether the words from `from` to `to` (token numbers, both included) stand under a negation that is not one of them:
 * a negator before them in the same clause with at most a few words between ("isn't just warm" negates nothing, "not
 * x, it is y" ends at "it is"), or a bare "no" after them.
 */
export function isNegated(tokens: readonly Token[], from: number, to: number): boolean {
  const clause = tokens[from]?.clause;
  // a phrase that says no itself is not denied by an earlier no: "no compressor, no fan"
  if (tokens[from]?.negator) return false;
  let words = 0;
  for (let i = from - 1; i >= 0; i -= 1) {
    const token = tokens[i];
    if (!token || token.clause !== clause) break;
    if (startsAnew(tokens, i + 1, from)) break;
    if (token.negator) return !NOT_NEGATING.has(tokens[i + 1]?.word ?? '');
    words += token.filler ? 0.5 : 1;
    if (words > SCOPE) break;
  }
  const after = tokens[to + 1];
  return (
    after !== undefined &&
    after.clause === (clause ?? 0) + 1 &&
    ANSWERS_NO.has(after.word) &&
    tokens[to + 2]?.clause !== after.clause
  );
}
/**
 * Whether a new statement begins at token `i`, so that a "not" before it says nothing of it: "and I smell", "it is",
 * "there is", or a comma, except in a list that goes on with "or" ("no smoke, sparks or smell").
 */
function startsAnew(tokens: readonly Token[], i: number, upTo: number): boolean {
  const here = tokens[i];
  const next = tokens[i + 1];
  if (!here || i > upTo) return false;
  if (here.word === 'and') return next !== undefined && (SUBJECTS.has(next.word) || i + 1 >= upTo - 3);
  if ((here.word === 'it' || here.word === 'there' || here.word === 'now') && next?.word === 'is') return true;
  if (!here.comma) return false;
  return !tokens.slice(i, upTo + 6).some((t) => t.clause === here.clause && (t.word === 'or' || t.word === 'nor'));
}
const SUBJECTS = new Set([
  'i',
  'we',
  'it',
  'there',
  'now',
  'the',
  'a',
  'he',
  'she',
  'they',
  'my',
  'our',
  'he',
  'then',
  'also',
  'that',
  'this',
  'you',
]);

const ANSWERS_NO = new Set(['no', 'none', 'nope', 'nothing']);
