/**
 * Finds the phrases of the knowledge folder in a text. A phrase is words in order, matched by their stems and with
 * small mistakes forgiven; `<name>` is any entry of a concept, `a|b` either word, `...` lets up to six words pass.
 * It says where a phrase stands and whether it stands under a negation; never what follows from it.
 */
import type { Concepts } from '../knowledge/facts.js';
import { spellerFor, type Speller } from './spelling.js';
import { EMPTY, isNegated, tokenise, type Token } from './text.js';

interface Element {
  /** any of these stems */
  readonly stems: ReadonlySet<string>;
  readonly concept: string | null;
  readonly negator: boolean;
  /** words that may stand before it: fillers only, or anything */
  readonly wide: boolean;
}

interface Phrase<T> {
  readonly owner: T;
  readonly text: string;
  readonly elements: readonly Element[];
}

export interface Match<T> {
  readonly owner: T;
  readonly phrase: string;
  /** token numbers, both included */
  readonly from: number;
  readonly to: number;
  readonly negated: boolean;
  /** how many words of the text it took */
  readonly weight: number;
}

export interface ReadText {
  readonly tokens: readonly Token[];
  readonly text: string;
}

export interface Matcher<T> {
  readonly find: (text: ReadText) => Match<T>[];
}

const FILLER_GAP = 3;
const WIDE_GAP = 7;
const PREPOSITIONS = new Set('of in at to for with from by into onto about'.split(' '));

export const read = (text: string): ReadText => ({ text, tokens: tokenise(text) });

/** All words of the phrases and concepts, for one speller over them all. */
export function spellerOf(phrases: Iterable<string>, concepts: Concepts, ordinary: Iterable<string>): Speller {
  const words: string[] = [];
  for (const phrase of phrases)
    for (const t of tokenise(phrase.replaceAll(/<[^>]*>|\.\.\.|\|/g, ' '))) words.push(t.word);
  for (const concept of concepts.values())
    for (const entry of [...concept.words, ...concept.not]) for (const t of tokenise(entry)) words.push(t.word);
  return spellerFor(words, new Set(ordinary));
}

export function matcherFor<T>(
  entries: Iterable<{ readonly owner: T; readonly phrase: string }>,
  concepts: Concepts,
  speller: Speller,
): Matcher<T> {
  const phrases: Phrase<T>[] = [];
  for (const { owner, phrase } of entries) phrases.push({ owner, text: phrase, elements: compile(phrase) });
  const byStem = new Map<string, Phrase<T>[]>();
  const byConcept = new Map<string, Phrase<T>[]>();
  const byNegator: Phrase<T>[] = [];
  const used = new Set<string>();
  for (const phrase of phrases) {
    const first = phrase.elements[0];
    if (!first) continue;
    if (first.concept) push(byConcept, first.concept, phrase);
    else if (first.negator) byNegator.push(phrase);
    else for (const stem of first.stems) push(byStem, stem, phrase);
    for (const e of phrase.elements) if (e.concept) used.add(e.concept);
  }
  const entryIndex = conceptIndex(concepts, used);

  return {
    find({ tokens }) {
      const stems = tokens.map((t) => [t.stem, ...speller.near(t.word)]);
      const spots = conceptSpots(tokens, stems, entryIndex);
      const matches: Match<T>[] = [];
      for (let i = 0; i < tokens.length; i += 1) {
        const seen = new Set<Phrase<T>>();
        const attempt = (phrase: Phrase<T>): void => {
          if (seen.has(phrase)) return;
          seen.add(phrase);
          const passed = { negators: 0 };
          const end = matchFrom(phrase.elements, 0, i, tokens, stems, spots, passed);
          if (end < 0) return;
          const negated = isNegated(tokens, i, end) !== (passed.negators % 2 === 1);
          matches.push({ owner: phrase.owner, phrase: phrase.text, from: i, to: end, negated, weight: end - i + 1 });
        };
        for (const stem of stems[i] ?? []) byStem.get(stem)?.forEach(attempt);
        for (const spot of spots[i] ?? []) byConcept.get(spot.concept)?.forEach(attempt);
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

/** A phrase into its elements. Articles, pronouns, forms of "be" and most prepositions in it need not be said. */
function compile(phrase: string): Element[] {
  const elements: Element[] = [];
  let wide = false;
  const pieces = phrase.match(/<[^>]+>|\.\.\.|[^\s]+/g) ?? [];
  const content = pieces.filter(
    (p) => p.startsWith('<') || (p !== '...' && !p.split('|').every((w) => EMPTY.has(w))),
  ).length;
  for (const piece of pieces) {
    if (piece === '...') {
      wide = elements.length > 0;
      continue;
    }
    if (piece.startsWith('<')) {
      elements.push({ stems: new Set(), concept: piece.slice(1, -1), negator: false, wide });
      wide = false;
      continue;
    }
    const options = piece.split('|').map((w) => tokenise(w));
    const single = options.every((o) => o.length === 1);
    for (const tokens of single ? [options.flat()] : (options[0] ?? []).map((t) => [t])) {
      const first = tokens[0];
      if (!first) continue;
      const droppable = tokens.every((t) => EMPTY.has(t.word));
      const keep = content === 0 || (content === 1 && tokens.some((t) => PREPOSITIONS.has(t.word)));
      if (droppable && !keep) continue;
      elements.push({
        stems: new Set(tokens.map((t) => t.stem)),
        concept: null,
        negator: tokens.every((t) => t.negator),
        wide,
      });
      wide = false;
    }
  }
  return elements;
}

interface Spot {
  readonly concept: string;
  readonly end: number;
}
interface Entry {
  readonly concept: string;
  readonly stems: readonly string[];
  /** an entry of the concept's `not` list */
  readonly not: boolean;
}
type EntryIndex = ReadonlyMap<string, readonly Entry[]>;

const indexes = new WeakMap<Concepts, Map<string, Entry[]>>();

function conceptIndex(concepts: Concepts, used: ReadonlySet<string>): EntryIndex {
  let all = indexes.get(concepts);
  if (!all) {
    all = new Map();
    for (const [concept, { words, not }] of concepts) {
      for (const entry of words) addEntry(all, concept, entry, false);
      for (const entry of not) addEntry(all, concept, entry, true);
    }
    indexes.set(concepts, all);
  }
  const mine = new Map<string, Entry[]>();
  for (const [stem, list] of all) {
    const kept = list.filter((e) => used.has(e.concept));
    if (kept.length) mine.set(stem, kept);
  }
  return mine;
}

function addEntry(index: Map<string, Entry[]>, concept: string, text: string, not: boolean): void {
  const tokens = tokenise(text);
  const content = tokens.filter((t) => !EMPTY.has(t.word));
  const stems = (content.length > 1 ? content : tokens).map((t) => t.stem);
  if (stems[0] !== undefined) push(index, stems[0], { concept, stems, not });
}

/** Where each concept stands, by the token it begins at; spots under one of its `not` entries are left out. */
function conceptSpots(tokens: readonly Token[], stems: readonly (readonly string[])[], index: EntryIndex): Spot[][] {
  const spots: Spot[][] = tokens.map(() => []);
  const barred: { concept: string; from: number; to: number }[] = [];
  tokens.forEach((_, i) => {
    for (const stem of stems[i] ?? [])
      for (const entry of index.get(stem) ?? []) {
        const end = run(entry.stems, i, tokens, stems);
        if (end < 0) continue;
        if (entry.not) barred.push({ concept: entry.concept, from: i, to: end });
        else if (!spots[i]?.some((s) => s.concept === entry.concept && s.end === end))
          spots[i]?.push({ concept: entry.concept, end });
      }
  });
  if (barred.length === 0) return spots;
  return spots.map((here, i) =>
    here.filter((s) => !barred.some((b) => b.concept === s.concept && b.from <= i && s.end <= b.to)),
  );
}

/** The entry's stems from token i on, with a filler or two between; the last token's number, or -1. */
function run(
  entry: readonly string[],
  i: number,
  tokens: readonly Token[],
  stems: readonly (readonly string[])[],
): number {
  let at = i;
  for (let k = 1; k < entry.length; k += 1) {
    let next = at + 1;
    let gap = 0;
    while (gap < 2 && tokens[next]?.filler && !stems[next]?.includes(entry[k] ?? '')) {
      next += 1;
      gap += 1;
    }
    if (!stems[next]?.includes(entry[k] ?? '') || tokens[next]?.clause !== tokens[i]?.clause) return -1;
    at = next;
  }
  return at;
}

function matchFrom(
  elements: readonly Element[],
  k: number,
  i: number,
  tokens: readonly Token[],
  stems: readonly (readonly string[])[],
  spots: readonly (readonly Spot[])[],
  passed: { negators: number },
): number {
  const element = elements[k];
  if (!element) return i - 1;
  for (const end of endsAt(element, i, tokens, stems, spots)) {
    if (k + 1 === elements.length) return end;
    const next = elements[k + 1];
    const clause = tokens[end]?.clause;
    const reach = next?.wide ? WIDE_GAP : FILLER_GAP;
    let negators = 0;
    for (let j = end + 1, gap = 0; j < tokens.length && gap < reach; j += 1, gap += 1) {
      if (tokens[j]?.clause !== clause) break;
      const done = matchFrom(elements, k + 1, j, tokens, stems, spots, passed);
      if (done >= 0) {
        passed.negators += negators;
        return done;
      }
      if (!next?.wide && !tokens[j]?.filler) break;
      if (tokens[j]?.negator) negators += 1;
    }
  }
  return -1;
}

function endsAt(
  element: Element,
  i: number,
  tokens: readonly Token[],
  stems: readonly (readonly string[])[],
  spots: readonly (readonly Spot[])[],
): number[] {
  if (element.concept) return (spots[i] ?? []).filter((s) => s.concept === element.concept).map((s) => s.end);
  if (element.negator) return tokens[i]?.negator ? [i] : [];
  return (stems[i] ?? []).some((s) => element.stems.has(s)) ? [i] : [];
}

/** The words of the text that a match took. */
export function spanOf(text: ReadText, match: { readonly from: number; readonly to: number }): string {
  const first = text.tokens[match.from];
  const last = text.tokens[match.to];
  return first && last ? text.text.slice(first.start, last.end) : '';
}
