/** A text as the answer to the finding just asked: a number of the list, a label, "fine", "both", yes or no, not sure. */
import { wordsFor, type Knowledge, type Role, type Words } from '../knowledge/facts.js';
import type { Match, ReadText } from '../message/phrases.js';
import { FILLERS, tokenise } from '../message/text.js';
import { answersOf, type FindingMeaning } from './ear.js';
import { answeredBy, type FoundValue, type PlacedValue } from './findings.js';
import type { Talk } from './talk.js';

export interface Reply {
  readonly found: readonly FoundValue[];
  readonly notSure: boolean;
}

/** What the question that stands is about: the finding, and for a confirm the value it offers and the one it replaces. */
export interface Asked {
  readonly finding: string;
  readonly value: string | null;
  readonly was: string | null;
  /** what the case holds already */
  readonly known: readonly string[];
}

/** What was asked, as far as an answer depends on it: the values offered, in the order shown. */
interface Offered {
  readonly values: readonly string[];
  readonly labels: readonly string[];
}

function offeredBy(knowledge: Knowledge, asked: Asked, words: Words): Offered {
  const f = knowledge.findings.get(asked.finding);
  const all = f?.values ?? [];
  const values = asked.value === null ? all : [asked.value, ...all.filter((v) => v !== asked.value)];
  return { values, labels: values.map((v) => f?.choices[v]?.[words] ?? v) };
}

/** The message as a reply: `volunteered` is what its phrases say without any question. */
export function replyTo(
  knowledge: Knowledge,
  asked: Asked,
  role: Role,
  text: ReadText,
  volunteered: readonly PlacedValue[],
  talk: Talk,
): Reply {
  const offered = offeredBy(knowledge, asked, wordsFor(role));
  const plain = text.text.trim().toLowerCase();
  const others = volunteered.filter((f) => f.finding !== asked.finding);
  const doubts = talk.at('not-sure');
  const own = volunteered.filter(
    (f) => f.finding === asked.finding && !doubts.some((d) => d.from <= f.to && f.to <= d.to),
  );
  const sure = (values: readonly string[]): Reply =>
    values.includes('not-sure')
      ? { found: others, notSure: true }
      : { found: [...others, ...values.map((v) => answered(asked.finding, v))], notSure: false };

  const listed = listedIn(plain, offered);
  if (listed) return sure(listed);
  if (own.length > 0) return { found: volunteered, notSure: false };
  // "go back" is a step back, not the back wall
  if (talk.acts.has('back') && text.tokens.length <= 4) return { found: volunteered, notSure: false };

  const short = answeredBy(knowledge, text, answerMatches(knowledge, asked.finding, text, talk), talk.at('hedge'));
  if (short.length > 0) {
    const apart = others.filter((o) => !short.some((s) => s.from <= o.to && o.from <= s.to));
    return { found: [...apartFrom(text, asked.finding, apart, short), ...short], notSure: false };
  }
  if (talk.acts.has('not-sure')) return { found: text.tokens.length > SHORT + 3 ? others : [], notSure: true };
  const relative = relativeTo(asked, offered, talk);
  if (relative) return sure(relative);
  if (asked.value !== null && asked.was === null && talk.acts.has('no') && !talk.acts.has('yes'))
    return { found: [...others, { ...answered(asked.finding, asked.value), denied: true }], notSure: false };
  const label = byLabel(plain, offered);
  if (label) return sure([label]);
  return { found: volunteered, notSure: volunteered.length === 0 && canNot(text) };
}

/** "Haven't had the panel off", "I couldn't find one": a person who says what they did not do, and nothing else. */
function canNot({ tokens }: ReadText): boolean {
  if (tokens.length > 14) return false;
  return tokens.some((t, i) => {
    if (!t.negator || i > 4) return false;
    const before = tokens.slice(0, i).map((x) => x.word);
    return before.some((w) => w === 'i' || w === 'we') || (before.length === 1 && DOING.has(before[0] ?? ''));
  });
}
const DOING = new Set(['have', 'had', 'can', 'could', 'did', 'do']);

/** In a short answer other findings are not meant by the same few words, but for those of the same thing. */
function apartFrom(
  text: ReadText,
  asked: string,
  others: readonly PlacedValue[],
  answer: readonly PlacedValue[],
): PlacedValue[] {
  const kin = (finding: string): boolean => finding.split('.')[0] === asked.split('.')[0];
  const segments = new Set(answer.map((a) => text.tokens[a.from]?.segment));
  return others.filter(
    (o) => kin(o.finding) || text.tokens.length > SHORT || !segments.has(text.tokens[o.from]?.segment),
  );
}
const SHORT = 9;

const answered = (finding: string, value: string): FoundValue => ({
  finding,
  value,
  denied: false,
  confidence: 1,
  span: null,
});

/** Short answers count where they are most of what their part of the message says. */
function answerMatches(knowledge: Knowledge, finding: string, text: ReadText, talk: Talk): Match<FindingMeaning>[] {
  const doubts = talk.at('not-sure');
  return answersOf(knowledge, finding)
    .find(text)
    .filter((m) => !doubts.some((d) => d.from <= m.to && m.to <= d.to))
    .filter((m) => isMostOf(text, m));
}

const ENOUGH = 0.4;
const ENOUGH_FOR_ONE = 0.51;
const ASIDE = new Set(
  'yes yeah yep yup no nope nah well ok okay oh ah erm hmm i think guess more about only mostly mainly probably maybe around roughly closer definitely rather'.split(
    ' ',
  ),
);

function isMostOf({ tokens }: ReadText, m: { readonly from: number; readonly to: number }): boolean {
  const first = tokens[m.from]?.segment ?? 0;
  const last = tokens[m.to]?.segment ?? 0;
  let all = 0;
  let taken = 0;
  tokens.forEach((t, i) => {
    const inside = m.from <= i && i <= m.to;
    if (t.segment < first || t.segment > last || (t.filler && !inside)) return;
    if ((ASIDE.has(t.word) || t.negator) && !inside) return;
    all += 1;
    if (inside) taken += 1;
  });
  return taken >= (taken > 1 ? ENOUGH : ENOUGH_FOR_ONE) * all;
}

/** "Both", "neither", "same as before", yes and no: by what was offered. */
function relativeTo(asked: Asked, offered: Offered, talk: Talk): readonly string[] | null {
  const { acts } = talk;
  if (asked.value !== null) {
    if (acts.has('both') && asked.was !== null) return [asked.value, asked.was];
    if (acts.has('same')) return asked.was !== null ? [asked.was] : [asked.value];
    if (acts.has('yes') !== acts.has('no')) {
      if (acts.has('yes')) return [asked.value];
      if (asked.was !== null) return [asked.was];
      return offered.values.length === 2 ? [offered.values[1] ?? ''] : null;
    }
  }
  if (acts.has('same') && asked.known.length > 0) return asked.known;
  const yesNo = offered.values.length === 2 && offered.values.includes('yes') && offered.values.includes('no');
  if (yesNo && acts.has('yes') !== acts.has('no')) return [acts.has('yes') ? 'yes' : 'no'];
  return acts.has('neither') && offered.values.includes('none') ? ['none'] : null;
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
  seventh: 7,
  eighth: 8,
  ninth: 9,
  last: -1,
  bottom: -1,
  latter: -1,
  former: 1,
  top: 1,
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
const LETTERS = 'abcdefghi';
/** "top" and "bottom" are places of the list only beside one of these */
const OF_A_LIST = new Set(['one', 'option', 'choice', 'answer']);
const BESIDE = new Set([...OF_A_LIST, 'number', 'no', 'please', 'pick', 'say', 'go', 'would', 'id', 'answer', 'id']);

/** A value's id, its whole label, or its place in the list; null where the message is more than that. */
function listedIn(plain: string, offered: Offered): readonly string[] | null {
  const listed = [...offered.values, 'not-sure'];
  if (listed.includes(plain)) return [plain];
  const bare = bareWords(plain).join(' ');
  const label = offered.labels.findIndex((l) => bareWords(l.toLowerCase()).join(' ') === bare);
  if (label >= 0) return [offered.values[label] ?? ''];
  const places = placesIn(plain);
  const picked = places?.map((n) => listed[n === -1 ? offered.values.length - 1 : n - 1]);
  return picked?.every((v) => v !== undefined) ? picked : null;
}

const bareWords = (plain: string): string[] =>
  plain
    .replaceAll(/[^a-z0-9\s]/g, ' ')
    .split(/\s+/)
    .filter(Boolean);

/** "2", "number 3", "the second one", "1 and 3", "b"; only where the message is little else. */
function placesIn(plain: string): number[] | null {
  const words = bareWords(plain);
  if (words.length === 0 || words.length > 7) return null;
  const only = words.length === 1 ? LETTERS.indexOf(words[0] ?? '') : -1;
  if (only >= 0 && words[0] !== 'i' && words[0] !== 'a') return [only + 1];
  const out: number[] = [];
  let said = false;
  for (const word of words) {
    if (Object.hasOwn(ORDINALS, word) && (!['top', 'bottom'].includes(word) || words.some((w) => OF_A_LIST.has(w)))) {
      out.push(ORDINALS[word] ?? 0);
      said = true;
    } else if (/^\d$/.test(word)) out.push(Number(word));
    else if (Object.hasOwn(NUMBERS, word) && !(said && word === 'one')) out.push(NUMBERS[word] ?? 0);
    else if (!FILLERS.has(word) && !BESIDE.has(word)) return null;
  }
  return out.length ? out : null;
}

/** The one label that shares most of its words with the text, and no other nearly as much. */
function byLabel(plain: string, offered: Offered): string | null {
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
  return best >= 0.6 && winners === 1 ? (offered.values[scores.indexOf(best)] ?? null) : null;
}
