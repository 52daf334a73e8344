/**
 * Finds the phrases of the knowledge folder in a text, by stems and with small mistakes forgiven. It says where a
 * phrase stands and whether it stands under a negation; never what follows from it.
 */
import type { Concepts } from '../knowledge/facts.js';
import { conceptIndex, conceptSpots, type Spot, type Stretch } from './concepts.js';
import { deniedBefore, isNegated, negates } from './negation.js';
import { compile, wordsOf, type Element } from './phrase-form.js';
import { spellerFor, type Speller } from './spelling.js';
import { tokenise, type Token } from './text.js';

interface Phrase<T> {
  readonly owner: T;
  readonly text: string;
  readonly parts: readonly (readonly Element[])[];
}

/** Tokens taken one element after the other, first and last of each. */
type Taken = readonly { readonly from: number; readonly to: number }[];

export interface Match<T> {
  readonly owner: T;
  readonly phrase: string;
  /** token numbers, both included */
  readonly from: number;
  readonly to: number;
  readonly negated: boolean;
  /** how many words of the text it stretches over */
  readonly weight: number;
  /** the tokens that its own words took, in order */
  readonly taken: Taken;
}

export interface ReadText {
  readonly tokens: readonly Token[];
  readonly text: string;
  /** stretches of time that were said */
  readonly stretches: readonly Stretch[];
}

export interface Matcher<T> {
  readonly find: (text: ReadText) => Match<T>[];
  /** the concepts that its phrases name, by the token they begin at */
  readonly spots: (text: ReadText) => readonly (readonly Spot[])[];
}

const FILLER_GAP = 3;
const WIDE_GAP = 7;
/** so many elements together are no accident, whatever stands between them */
const TELLING = 3;
/** tokens between two parts that may come in either order */
const APART = 8;
const APART_AND_LOOSE = 12;

export const read = (text: string, stretches: readonly Stretch[] = []): ReadText => ({
  text,
  tokens: tokenise(text),
  stretches,
});

/** All words of the phrases and concepts, for one speller over them all. */
export function spellerOf(phrases: Iterable<string>, concepts: Concepts, ordinary: Iterable<string>): Speller {
  const words: string[] = [];
  for (const phrase of phrases) words.push(...wordsOf(phrase));
  return spellerFor([...words, ...conceptWords(concepts)], new Set(ordinary));
}

const wordsOfConcepts = new WeakMap<Concepts, readonly string[]>();

/** Each word of the concepts once: several spellers are made over them. */
function conceptWords(concepts: Concepts): readonly string[] {
  let words = wordsOfConcepts.get(concepts);
  if (!words) {
    const found = new Set<string>();
    for (const { words: entries, not } of concepts.values())
      for (const entry of [...entries, ...not]) for (const word of wordsOf(entry)) found.add(word);
    wordsOfConcepts.set(concepts, (words = [...found]));
  }
  return words;
}

/** A text as the matcher sees it. */
interface View {
  readonly tokens: readonly Token[];
  readonly stems: readonly (readonly string[])[];
  readonly spots: readonly (readonly Spot[])[];
  /** commas are no barrier: nothing may be missed */
  readonly loose: boolean;
}

/** `loose`: a phrase may cross commas freely, for a listener that must not miss anything. */
export function matcherFor<T>(
  entries: Iterable<{ readonly owner: T; readonly phrase: string }>,
  concepts: Concepts,
  speller: Speller,
  { loose = false }: { readonly loose?: boolean } = {},
): Matcher<T> {
  const byStem = new Map<string, Phrase<T>[]>();
  const byConcept = new Map<string, Phrase<T>[]>();
  const byNegator: Phrase<T>[] = [];
  const used = new Set<string>();
  for (const { owner, phrase: text } of entries) {
    const phrase: Phrase<T> = { owner, text, parts: compile(text) };
    const first = phrase.parts[0]?.[0];
    if (!first) continue;
    if (first.concept) push(byConcept, first.concept, phrase);
    else if (first.negator) byNegator.push(phrase);
    else {
      for (const stem of first.stems) push(byStem, stem, phrase);
      for (const word of first.words) push(byStem, `=${word}`, phrase);
    }
    for (const part of phrase.parts) for (const e of part) if (e.concept) used.add(e.concept);
  }
  const index = conceptIndex(concepts, used);

  const views = new WeakMap<ReadText, View>();
  const viewOf = (text: ReadText): View => {
    let view = views.get(text);
    if (!view) {
      const { tokens, stretches } = text;
      const stems = tokens.map((t) => [t.stem, `=${t.word}`, ...speller.near(t.word)]);
      views.set(text, (view = { tokens, stems, spots: conceptSpots(tokens, stems, index, stretches), loose }));
    }
    return view;
  };

  return {
    spots: (text) => viewOf(text).spots,
    find(text) {
      const view = viewOf(text);
      const { tokens, stems } = view;
      const matches: Match<T>[] = [];
      for (let i = 0; i < tokens.length; i += 1) {
        const seen = new Set<Phrase<T>>();
        const attempt = (phrase: Phrase<T>): void => {
          if (seen.has(phrase)) return;
          seen.add(phrase);
          const found = whereFrom(phrase.parts, i, view);
          if (found)
            matches.push({ owner: phrase.owner, phrase: phrase.text, ...found, weight: found.to - found.from + 1 });
        };
        for (const stem of stems[i] ?? []) byStem.get(stem)?.forEach(attempt);
        for (const spot of view.spots[i] ?? []) byConcept.get(spot.concept)?.forEach(attempt);
        if (tokens[i]?.negator) byNegator.forEach(attempt);
      }
      return matches;
    },
  };
}

function push<K, V>(map: Map<K, V[]>, key: K, value: V): void {
  const list = map.get(key);
  if (list) list.push(value);
  else map.set(key, [value]);
}

/** Where a phrase stands whose first part begins at token i: the other parts before or behind it, the nearest first. */
function whereFrom(
  parts: readonly (readonly Element[])[],
  i: number,
  view: View,
): { from: number; to: number; negated: boolean; taken: Taken } | null {
  const first = parts[0] ?? [];
  let taken: Taken | null = partAt(first, 0, i, view);
  if (!taken) return null;
  for (const part of parts.slice(1)) {
    const other = nearestPart(part, taken, view);
    if (!other) return null;
    taken = [...taken, ...other].sort((a, b) => a.from - b.from);
  }
  const from = taken[0]?.from ?? i;
  const to = Math.max(...taken.map((t) => t.to));
  const denied = isNegated(view.tokens, from, to);
  const negated = view.loose
    ? denied || saysNo(view.tokens, from, to, taken)
    : denied !== (deniedInside(view.tokens, from, taken) % 2 === 1);
  return { from, to, negated, taken };
}

/** Parts behind the first that stand under a "no" of their own. */
const deniedInside = (tokens: readonly Token[], from: number, taken: Taken): number =>
  taken.slice(1).filter((t, k) => deniedBefore(tokens, t.from, (taken[k]?.to ?? from) + 1)).length;

/** Of a listener's phrase, a "no" inside says no only to the very next words: "could be nothing, bubbles come out". */
function saysNo(tokens: readonly Token[], from: number, to: number, taken: Taken): boolean {
  const inside = (j: number): boolean => taken.some((t) => t.from <= j && j <= t.to);
  const comma = (j: number): boolean => tokens[j]?.comma ?? false;
  const reaches = (j: number): boolean => !comma(j + 1) && (inside(j + 1) || (inside(j + 2) && !comma(j + 2)));
  for (let j = from; j <= to; j += 1)
    if (tokens[j]?.negator && negates(tokens, j) && !inside(j) && reaches(j)) return true;
  return false;
}

function nearestPart(part: readonly Element[], taken: Taken, view: View): Taken | null {
  const from = taken[0]?.from ?? 0;
  const to = Math.max(...taken.map((t) => t.to));
  const { clause, sentence } = view.tokens[from] ?? { clause: 0, sentence: 0 };
  const apart = view.loose ? APART_AND_LOOSE : APART;
  const between = view.loose ? Array.from({ length: Math.max(0, to - from - 1) }, (_, k) => from + 1 + k) : [];
  for (let gap = between.length > 0 ? -1 : 0; gap <= apart; gap += 1)
    for (const j of gap < 0 ? between : [to + 1 + gap, from - 1 - gap]) {
      const there = view.tokens[j];
      if (!there || (view.loose ? !isNear(there.sentence, sentence, gap) : there.clause !== clause)) continue;
      const found = partAt(part, 0, j, view);
      if (!found || found.some((f) => taken.some((t) => f.from <= t.to && t.from <= f.to))) continue;
      if (
        crosses(
          [...taken, ...found].sort((a, b) => a.from - b.from),
          view,
        )
      )
        return found;
    }
  return null;
}

/** A scene may be told in two short sentences: "The plug is lying there. All wet." */
const isNear = (there: number, sentence: number, gap: number): boolean =>
  there === sentence || (Math.abs(there - sentence) === 1 && gap <= 2);

/** The elements of a part from the k-th on, the first of them at token i. */
function partAt(part: readonly Element[], k: number, i: number, view: View): Taken | null {
  const element = part[k];
  if (!element) return [];
  const { tokens } = view;
  for (const end of endsAt(element, i, view)) {
    const here = { from: i, to: end };
    const next = part[k + 1];
    if (!next) return [here];
    const reach = next.wide ? WIDE_GAP : FILLER_GAP;
    const clause = tokens[end]?.clause;
    for (let j = end + 1, gap = 0; j < tokens.length && gap < reach; j += 1, gap += 1) {
      if (tokens[j]?.clause !== clause) break;
      const rest = partAt(part, k + 1, j, view);
      if (rest && (k > 0 || crosses([here, ...rest], view))) return [here, ...rest];
      if (!next.wide && !tokens[j]?.filler) break;
    }
  }
  return null;
}

/**
 * Whether the words taken belong together across commas and "and the": true where there are three of them in order, or
 * where, of two neighbouring segments, one holds nothing else ("at the back, thick ice"; but not "the wall is clean,
 * the floor iced").
 */
function crosses(taken: Taken, view: View, telling = TELLING): boolean {
  if (view.loose) return true;
  if (taken.some((t) => beginsStatement(t.to, taken, view))) return false;
  if (taken.length >= telling) return true;
  const { tokens } = view;
  for (let k = 1; k < taken.length; k += 1) {
    const before = taken[k - 1];
    const after = taken[k];
    if (!before || !after) continue;
    const one = tokens[before.to]?.segment;
    const two = tokens[after.from]?.segment;
    if (one === two) continue;
    if (!isAllTaken(one, before.to, taken, view) && !isAllTaken(two, after.from, taken, view)) return false;
  }
  return true;
}

/**
 * Whether words that were taken reach over a comma to what is the subject of a statement of its own: "frost at the back,
 * fridge is warm" says nothing of the back of the fridge.
 */
function beginsStatement(to: number, taken: Taken, { tokens }: View): boolean {
  if (!STATES.has(tokens[to + 1]?.word ?? '')) return false;
  const segment = tokens[to]?.segment;
  const first = taken[0]?.from ?? to;
  let begins = to;
  while (begins > first && !tokens[begins]?.comma) begins -= 1;
  if (begins === first || tokens[begins]?.segment !== segment) return false;
  let tells = to + 2;
  while (tokens[tells]?.segment === segment && tokens[tells]?.filler) tells += 1;
  return tokens[tells]?.segment === segment && !taken.some((t) => t.from <= tells && tells <= t.to);
}
const STATES = new Set(['is', 'are', 'was', 'were', 'has', 'feels', 'gets', 'got', 'bit', 'part', 'side']);

/** Whether the segment around token `at` holds no telling word that was not taken. */
function isAllTaken(segment: number | undefined, at: number, taken: Taken, { tokens }: View): boolean {
  const other = (j: number): boolean => !(tokens[j]?.filler ?? true) && !taken.some((t) => t.from <= j && j <= t.to);
  for (let j = at; tokens[j]?.segment === segment; j -= 1) if (other(j)) return false;
  for (let j = at + 1; tokens[j]?.segment === segment; j += 1) if (other(j)) return false;
  return true;
}

function endsAt(element: Element, i: number, { tokens, stems, spots }: View): number[] {
  if (element.concept) return (spots[i] ?? []).filter((s) => s.concept === element.concept).map((s) => s.end);
  if (element.negator) return tokens[i]?.negator ? [i] : [];
  const word = tokens[i]?.word ?? '';
  return element.words.has(word) || (stems[i] ?? []).some((s) => element.stems.has(s)) ? [i] : [];
}

/** The words of the text that a match took. */
export function spanOf(text: ReadText, match: { readonly from: number; readonly to: number }): string {
  const first = text.tokens[match.from];
  const last = text.tokens[match.to];
  return first && last ? text.text.slice(first.start, last.end) : '';
}
