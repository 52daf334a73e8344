/**
 * Where the concepts of the knowledge folder stand in a text: a name for many words, or for every stretch of time of a
 * certain length. Where an entry of a concept's `not` list stands over the words, they mean something else.
 */
import type { Concept, Concepts } from '../knowledge/facts.js';
import { EMPTY, wordsIn, type Token } from './text.js';

/** A concept that begins at some token, and the token it ends at. */
export interface Spot {
  readonly concept: string;
  readonly end: number;
}

interface Entry {
  readonly concept: string;
  readonly stems: readonly string[];
  /** an entry of the concept's `not` list */
  readonly not: boolean;
}

/**
 * A stretch of time that was said, with its tokens. How: plain ("three days"), one that lies back ("three days ago"),
 * one that something lasts ("for three days"), or how often ("every three days", "twice a week": the hours between).
 */
export interface Stretch {
  readonly hours: number;
  readonly from: number;
  readonly to: number;
  readonly how: StretchHow;
}
export type StretchHow = NonNullable<Concept['lasts']>['how'][number];

export interface ConceptIndex {
  readonly entries: ReadonlyMap<string, readonly Entry[]>;
  readonly stretches: readonly {
    readonly concept: string;
    readonly from: number;
    readonly to: number;
    readonly how: readonly StretchHow[];
  }[];
}

const indexes = new WeakMap<Concepts, ConceptIndex>();

function whole(concepts: Concepts): ConceptIndex {
  let index = indexes.get(concepts);
  if (!index) {
    const entries = new Map<string, Entry[]>();
    const stretches: { concept: string; from: number; to: number; how: readonly StretchHow[] }[] = [];
    for (const [concept, { words, not, lasts }] of concepts) {
      for (const entry of words) addEntry(entries, concept, entry, false);
      for (const entry of not) addEntry(entries, concept, entry, true);
      if (lasts) stretches.push({ concept, from: lasts.from, to: lasts.to, how: lasts.how });
    }
    indexes.set(concepts, (index = { entries, stretches }));
  }
  return index;
}

/** The index of some of the concepts. */
export function conceptIndex(concepts: Concepts, used: ReadonlySet<string>): ConceptIndex {
  const all = whole(concepts);
  const entries = new Map<string, readonly Entry[]>();
  for (const [stem, list] of all.entries) {
    const kept = list.filter((e) => used.has(e.concept));
    if (kept.length > 0) entries.set(stem, kept);
  }
  return { entries, stretches: all.stretches.filter((s) => used.has(s.concept)) };
}

function addEntry(index: Map<string, Entry[]>, concept: string, text: string, not: boolean): void {
  // an entry with choices in it is a phrase, and found as one
  if (/[|&<]|\.\.\./.test(text)) return;
  const tokens = wordsIn(text.startsWith('=') ? text.slice(1) : text);
  const content = tokens.filter((t) => !EMPTY.has(t.word));
  const stems = (content.length > 1 ? content : tokens).map((t) => (text.startsWith('=') ? `=${t.word}` : t.stem));
  const [first] = stems;
  if (first === undefined) return;
  const list = index.get(first);
  if (list) list.push({ concept, stems, not });
  else index.set(first, [{ concept, stems, not }]);
}

/** Where each concept stands, by the token it begins at; spots under one of its `not` entries are left out. */
export function conceptSpots(
  tokens: readonly Token[],
  stems: readonly (readonly string[])[],
  index: ConceptIndex,
  stretches: readonly Stretch[],
): Spot[][] {
  const spots: Spot[][] = tokens.map(() => []);
  const barred: { concept: string; from: number; to: number }[] = [];
  tokens.forEach((_, i) => {
    for (const stem of stems[i] ?? [])
      for (const entry of index.entries.get(stem) ?? []) {
        const end = run(entry.stems, i, tokens, stems);
        if (end < 0) continue;
        if (entry.not) barred.push({ concept: entry.concept, from: i, to: end });
        else if (!spots[i]?.some((s) => s.concept === entry.concept && s.end === end))
          spots[i]?.push({ concept: entry.concept, end });
      }
  });
  for (const s of stretches)
    for (const range of index.stretches)
      if (range.how.includes(s.how) && s.hours >= range.from && s.hours < range.to)
        spots[s.from]?.push({ concept: range.concept, end: s.to });
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
