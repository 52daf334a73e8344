/**
 * A phrase of the knowledge folder into what has to be found. Words in order, by their stems; `=word` that very form;
 * `a|b` either word; `<name>` any entry of a concept; `...` lets up to six words pass; `&` joins parts that may come in
 * either order. Nothing is searched here.
 */
import type { Concepts } from '../knowledge/facts.js';
import { EMPTY, wordsIn } from './text.js';

export interface Element {
  /** any of these stems */
  readonly stems: ReadonlySet<string>;
  /** any of these words as they are */
  readonly words: ReadonlySet<string>;
  readonly concept: string | null;
  readonly negator: boolean;
  /** words that may stand before it: fillers only, or anything */
  readonly wide: boolean;
}

const PREPOSITIONS = new Set('of in at to for with from by into onto about'.split(' '));
const PIECES = /<[^>]+>|\.\.\.|&|[^\s]+/g;

/** The parts of a phrase, each a row of elements. Articles, pronouns, forms of "be" and most prepositions need not be said. */
export function compile(phrase: string): Element[][] {
  const pieces = phrase.match(PIECES) ?? [];
  const content = pieces.filter(
    (p) => p.startsWith('<') || (p !== '...' && p !== '&' && !p.split('|').every((w) => EMPTY.has(w))),
  ).length;
  const parts: Element[][] = [[]];
  let wide = false;
  for (const piece of pieces) {
    const part = parts.at(-1) ?? [];
    if (piece === '&') {
      if (part.length > 0) parts.push([]);
      wide = false;
    } else if (piece === '...') wide = part.length > 0;
    else {
      const elements = elementsOf(piece, content, wide);
      if (elements.length > 0) wide = false;
      part.push(...elements);
    }
  }
  return parts.filter((p) => p.length > 0);
}

function elementsOf(piece: string, content: number, wide: boolean): Element[] {
  if (piece.startsWith('<'))
    return [{ stems: new Set(), words: new Set(), concept: piece.slice(1, -1), negator: false, wide }];
  const elements: Element[] = [];
  const exact = new Set<string>();
  const options = piece.split('|').map((w) => {
    const tokens = wordsIn(w.startsWith('=') ? w.slice(1) : w);
    if (w.startsWith('=')) for (const t of tokens) exact.add(t.word);
    return { tokens, exact: w.startsWith('=') };
  });
  const single = options.every((o) => o.tokens.length === 1);
  const loose = options.filter((o) => !o.exact).flatMap((o) => o.tokens);
  const rows = single ? [loose] : (options[0]?.tokens ?? []).map((t) => [t]);
  for (const tokens of rows) {
    const droppable = tokens.every((t) => EMPTY.has(t.word)) && exact.size === 0;
    const keep = content === 0 || (content === 1 && tokens.some((t) => PREPOSITIONS.has(t.word)));
    if ((tokens.length === 0 && exact.size === 0) || (droppable && !keep)) continue;
    elements.push({
      stems: new Set(tokens.map((t) => t.stem)),
      words: exact,
      concept: null,
      negator: exact.size === 0 && tokens.every((t) => t.negator),
      wide: wide && elements.length === 0,
    });
  }
  return elements;
}

/** A phrase as one who says it might: the first of everything that it allows; null where a list of it does not exist. */
export function instanceOf(concepts: Concepts, phrase: string): string | null {
  const pieces = (phrase.match(PIECES) ?? []).filter((p) => p !== '...' && p !== '&');
  const said = pieces.map((p) =>
    p.startsWith('<') ? concepts.get(p.slice(1, -1))?.words[0] : p.split('|')[0]?.replace('=', ''),
  );
  return said.includes(undefined) ? null : said.join(' ');
}

/** The words that a phrase names itself, for the speller. */
export const wordsOf = (phrase: string): string[] =>
  wordsIn(/[^a-z ]/.test(phrase) ? phrase.replaceAll(/<[^>]*>|\.\.\.|[|&=~?]/g, ' ') : phrase).map((t) => t.word);
