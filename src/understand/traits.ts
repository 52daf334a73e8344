/**
 * What a sentence looks like to the second reader: its word stems, those under a "no", neighbours, and the concepts of
 * language/ that stand in it, each with its place. It does not know what any of them means.
 */
import type { Concepts } from '../knowledge/facts.js';
import { conceptIndex, conceptSpots, type ConceptIndex } from '../message/concepts.js';
import type { ReadText } from '../message/phrases.js';
import type { Speller } from '../message/spelling.js';
import { EMPTY } from '../message/text.js';

/** A trait and the tokens that show it, both included. */
export interface Trait {
  readonly name: string;
  readonly from: number;
  readonly to: number;
}

export interface TraitReader {
  readonly traitsOf: (text: ReadText) => Trait[];
}

/** Concepts that steer the talk or mean danger say nothing of a finding. */
const ELSEWHERE = /^(?:talk|danger|let-go|scene)\b/;
/** telling words that a "no" still reaches */
const REACH = 4;
/** tokens between two concepts that are seen together */
const TOGETHER = 5;

export function traitReader(concepts: Concepts, speller: Speller): TraitReader {
  const used = new Set([...concepts.keys()].filter((c) => !ELSEWHERE.test(c)));
  const index: ConceptIndex = conceptIndex(concepts, used);
  return { traitsOf: (text) => traitsOf(text, index, speller) };
}

function traitsOf({ tokens, stretches }: ReadText, index: ConceptIndex, speller: Speller): Trait[] {
  const traits: Trait[] = [];
  const add = (name: string, from: number, to: number): void => void traits.push({ name, from, to });
  const stems = tokens.map((t) => [t.stem, `=${t.word}`, ...speller.near(t.word)]);
  let last: { readonly stem: string; readonly at: number; readonly clause: number } | null = null;
  let before: { readonly stem: string; readonly at: number; readonly clause: number } | null = null;
  let reach = 0;
  let clause = -1;
  tokens.forEach((t, i) => {
    if (t.clause !== clause || t.comma) reach = 0;
    clause = t.clause;
    if (EMPTY.has(t.word)) return;
    const stem = /^\d/.test(t.word) ? '#' : (speller.near(t.word)[0] ?? t.stem);
    add(stem, i, i);
    if (reach > 0) {
      add(`no ${stem}`, i, i);
      reach -= t.filler ? 0 : 1;
    }
    if (t.negator) reach = REACH;
    if (last && last.clause === t.clause) add(`${last.stem} ${stem}`, last.at, i);
    if (before && before.clause === t.clause) add(`${before.stem} _ ${stem}`, before.at, i);
    before = last;
    last = { stem, at: i, clause: t.clause };
  });
  const spots = conceptSpots(tokens, stems, index, stretches);
  const placed: { readonly concept: string; readonly at: number; readonly end: number }[] = [];
  spots.forEach((here, at) => {
    const seen = new Set<string>();
    for (const { concept, end } of here) {
      if (seen.has(concept)) continue;
      seen.add(concept);
      placed.push({ concept, at, end });
    }
  });
  placed.forEach((p, k) => {
    add(`<${p.concept}>`, p.at, p.end);
    for (let j = k + 1; j < placed.length; j += 1) {
      const q = placed[j];
      if (!q || q.at - p.at > TOGETHER) break;
      if (q.at <= p.end || tokens[q.at]?.clause !== tokens[p.at]?.clause) continue;
      const [a, b] = p.concept < q.concept ? [p.concept, q.concept] : [q.concept, p.concept];
      if (a !== b) add(`<${a}> <${b}>`, p.at, q.end);
    }
  });
  return traits;
}
