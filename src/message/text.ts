/**
 * The plainest reading of a text: its normal form, its words with their stems, where a clause and a part of one ends.
 * It does not know what any word means.
 */
import PorterStemmer from 'natural/lib/natural/stemmers/porter_stemmer.js';

export interface Token {
  /** as it is read: lower case, contractions opened, no accents */
  readonly word: string;
  readonly stem: string;
  /** place in the text as it came */
  readonly start: number;
  readonly end: number;
  /** counts up at . ! ? ; and line breaks */
  readonly sentence: number;
  /** counts up at sentences, "but" and its like; a phrase never crosses it */
  readonly clause: number;
  /** counts up at clauses, commas, colons and "and the ..."; a phrase crosses it only where one side says nothing else */
  readonly segment: number;
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
  dosnt: ['does', 'not'],
  dosent: ['does', 'not'],
  doesn: ['does', 'not'],
  didnt: ['did', 'not'],
  isnt: ['is', 'not'],
  arent: ['are', 'not'],
  wasnt: ['was', 'not'],
  werent: ['were', 'not'],
  havent: ['have', 'not'],
  hasnt: ['has', 'not'],
  hadnt: ['had', 'not'],
  couldnt: ['could', 'not'],
  wouldnt: ['would', 'not'],
  shouldnt: ['should', 'not'],
  "y'all": ['you'],
  thats: ['that', 'is'],
  whats: ['what', 'is'],
  theres: ['there', 'is'],
  heres: ['here', 'is'],
  wheres: ['where', 'is'],
  its: ['it', 'is'],
  hes: ['he', 'is'],
  shes: ['she', 'is'],
  theyre: ['they', 'are'],
  youre: ['you', 'are'],
  im: ['i', 'am'],
  ive: ['i', 'have'],
  weve: ['we', 'have'],
  theyve: ['they', 'have'],
  gonna: ['going', 'to'],
  gotta: ['got', 'to'],
  wanna: ['want', 'to'],
  kinda: ['kind', 'of'],
  sorta: ['sort', 'of'],
  lemme: ['let', 'me'],
  til: ['until'],
  thru: ['through'],
  tho: ['though'],
  nothin: ['nothing'],
  nuthin: ['nothing'],
  nowt: ['nothing'],
  nada: ['nothing'],
  zilch: ['nothing'],
  n: ['and'],
  '&': ['and'],
  '+': ['and'],
  u: ['you'],
  w: ['with'],
  'w/': ['with'],
  'w/o': ['without'],
  'o.l': ['ol'],
  '0.l': ['ol'],
  wo: ['without'],
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

/** After "and": a new statement begins ("and the fridge is fine"). "It" and "they" speak of the same thing still. */
const NEW_SUBJECT = new Set('the a an my our his her their there i we he she this these now then'.split(' '));
/** After a comma: the same statement goes on ("the seal, it is torn"). */
const GOES_ON = new Set(
  'it they which all and or nor also even especially mostly mainly completely totally'.split(' '),
);

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
  if (PLAIN.test(text)) return text.toLowerCase();
  let out = '';
  for (const char of text) {
    const plain = char
      .normalize('NFKD')
      .replace(/[\u0300-\u036f]/g, '')
      .toLowerCase();
    // a letter of two code units (a mathematical one) is read as the plain one; what is longer is cut
    const kept = PARTS.test(char)
      ? ' '
      : UNSEEN.test(char)
        ? ''
        : (SAME[char] ?? (char.length === 2 && plain === char ? '  ' : plain));
    out += kept.padEnd(char.length, JOINER).slice(0, char.length);
  }
  return out;
}
/** printable ASCII and line breaks, without the backtick */
const PLAIN = /^[\n\r\t -_a-~]*$/;
/** Stands for what is invisible inside a word: a soft hyphen, a joiner, an accent of its own. */
const JOINER = '\u00ad';
/** Signs without a width that set words apart, or turn their direction; a trick may set them inside a word. */
const PARTS = /[\u061c\u200b\u200e\u200f\u202a-\u202e\u2066-\u2069]/;
/** The same text with nothing but letters where such a sign stood, of the same length; null where there is none. */
export const withoutParts = (text: string): string | null =>
  PARTS.test(text) ? text.replaceAll(new RegExp(PARTS, 'g'), JOINER) : null;
/** What is not drawn: a reader sees the letters beside it as one word (Unicode, DerivedCoreProperties). */
const UNSEEN = /^\p{Default_Ignorable_Code_Point}$/u;
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
  '\u00a0': ' ',
  '\u00b0': '\u00b0',
  '\u03a9': '\u03a9',
  '\u2126': '\u03a9',
  '\u00bd': '\u00bd',
  '\u00bc': '\u00bc',
  '\u00be': '\u00be',
};

const WORD =
  /(?<![a-z0-9])[o0]\.l(?![a-z])|w\/o?(?![a-z])|[a-z][a-z\u00ad]*(?:'[a-z\u00ad]+)*|\d[\d\u00ad]*(?:[.,]\u00ad*\d[\d\u00ad]*)*|[&+]|[.!?;\n]+|[,:]/g;

/** The words of a text with their clauses. Grows linearly with the text. */
export function tokenise(text: string): Token[] {
  const normal = normalForm(text);
  const tokens: Token[] = [];
  let sentence = 0;
  let clause = 0;
  let segment = 0;
  let comma = false;
  let after: string | null = null;
  for (const match of normal.matchAll(WORD)) {
    const found = match[0].includes(JOINER) ? match[0].replaceAll(JOINER, '') : match[0];
    const start = match.index;
    const end = start + match[0].length;
    if (found === ',' || found === ':') {
      comma = true;
      continue;
    }
    if (/^[.!?;\n]/.test(found)) {
      sentence += 1;
      clause += 1;
      segment += 1;
      after = null;
      continue;
    }
    const words = opened(found);
    if (BREAKS.has(found)) {
      clause += 1;
      segment += 1;
    } else if (comma ? !GOES_ON.has(words[0] ?? '') : after === 'and' && NEW_SUBJECT.has(words[0] ?? '')) segment += 1;
    for (const word of words) {
      tokens.push({
        word,
        stem: stemOf(word),
        start,
        end,
        sentence,
        clause,
        segment,
        negator: NEGATORS.has(word),
        filler: FILLERS.has(word) || BREAKS.has(word),
        comma,
      });
      comma = false;
      after = word;
    }
  }
  return tokens;
}

/** What a phrase needs to know of a word. */
export type Word = Pick<Token, 'word' | 'stem' | 'negator'>;

/** The words of a phrase, as `tokenise` reads them, where nothing else of them is wanted: there are tens of thousands. */
export function wordsIn(text: string): readonly Word[] {
  if (!/^[a-z ]*$/.test(text)) return tokenise(text);
  const all: Word[] = [];
  for (const part of text.split(' ')) if (part !== '') all.push(...readWord(part));
  return all;
}

const readWords = new Map<string, readonly Word[]>();
function readWord(part: string): readonly Word[] {
  let known = readWords.get(part);
  if (!known) {
    known = opened(part).map((word) => ({ word, stem: stemOf(word), negator: NEGATORS.has(word) }));
    if (readWords.size < MAX_STEMS) readWords.set(part, known);
  }
  return known;
}

function opened(long: string): readonly string[] {
  // "psssss", "sooo": no word has a letter three times running
  const word = long.length > 3 && /([a-z])\1\1/.test(long) ? long.replaceAll(/([a-z])\1{2,}/g, '$1$1') : long;
  const known = Object.hasOwn(CONTRACTIONS, word) ? CONTRACTIONS[word] : undefined;
  if (known) return known;
  const apostrophe = word.indexOf("'");
  if (apostrophe < 0) return [word];
  if (word.endsWith("n't")) return [word.slice(0, -3), 'not'];
  if (apostrophe > 0) {
    const tail = word.slice(apostrophe + 1);
    const head = word.slice(0, apostrophe);
    const verb = TAILS[tail];
    return verb ? [head, verb] : [head + tail];
  }
  return [word];
}
const TAILS: Readonly<Record<string, string>> = {
  s: 'is',
  re: 'are',
  ve: 'have',
  ll: 'will',
  m: 'am',
  d: 'would',
};
