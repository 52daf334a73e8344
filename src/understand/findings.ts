/** Phrase matches into findings: the longest wins inside a finding, negated ones are denied, hedged ones are less sure. */
import type { Knowledge } from '../knowledge/facts.js';
import { spanOf, type Match, type ReadText } from '../message/phrases.js';
import type { FindingMeaning, Meaning } from './ear.js';

export interface FoundValue {
  readonly finding: string;
  readonly value: string;
  readonly denied: boolean;
  readonly confidence: number;
  readonly span: string | null;
}

/** A value and the tokens that said it. */
export interface PlacedValue extends FoundValue {
  readonly from: number;
  readonly to: number;
}

/** A phrase is as sure as this; a hedge in its clause makes it less sure. */
const SURE = 0.9;
const HEDGED = 0.6;

export type FindingMatch = Match<FindingMeaning>;

/**
 * @param lenient phrases that are weak by themselves count for this finding, or (true) for all: it was asked, or the
 * words correct something
 */
export function findingsOf(
  knowledge: Knowledge,
  text: ReadText,
  all: readonly Match<Meaning>[],
  hedges: readonly Match<unknown>[],
  lenient: string | boolean,
  /** what only names a value of a finding: its answers */
  bare: (finding: string) => readonly FindingMatch[],
): PlacedValue[] {
  const matches = all
    .filter((m): m is FindingMatch => m.owner.kind === 'finding')
    .filter((m) => !(knowledge.findings.get(m.owner.finding)?.kind === 'context' && isAnothers(text, m)));
  const byFinding = new Map<string, FindingMatch[]>();
  for (const m of matches) {
    const list = byFinding.get(m.owner.finding);
    if (list) list.push(m);
    else byFinding.set(m.owner.finding, [m]);
  }
  const found: PlacedValue[] = [];
  for (const [id, own] of byFinding) {
    const finding = knowledge.findings.get(id);
    if (!finding) continue;
    const others = matches.filter((m) => m.owner.finding !== id && !m.owner.weak);
    const kept = own.filter(
      (m) =>
        !own.some((other) => covers(other, m) || isFartherThan(other, m, text)) &&
        !others.some((o) => finding.yieldsTo.includes(o.owner.finding) && stretchesOver(o, m)) &&
        (!m.owner.general || !own.some((o) => o.owner.value !== m.owner.value && !o.owner.weak && !o.negated)) &&
        (!m.owner.weak || counts(m, own, others, lenient === true || lenient === id)),
    );
    const listed = finding.many && kept.length > 0 ? alsoListed(kept, bare(id), others, text) : [];
    found.push(...settled(valuesOf([...kept, ...listed], text, hedges), finding.many, finding.values));
  }
  return found;
}

/** "I had it in her chest freezer": what a part lay in is another unit, not the one that is spoken of. */
function isAnothers({ tokens }: ReadText, { from }: FindingMatch): boolean {
  const [into, whose] = [tokens[from - 2]?.word ?? '', tokens[from - 1]?.word ?? ''];
  return (into === 'in' || into === 'into') && OTHERS.has(whose);
}
const OTHERS = new Set(['her', 'his', 'their', 'another', 'a']);

/**
 * Of a finding with several values, those that are only named beside one that is said: "the heater and the thermostat
 * were replaced", "frost on the back and a bit on the floor", "torn, and mouldy". Nothing else may be said with them.
 */
function alsoListed(
  said: readonly FindingMatch[],
  named: readonly FindingMatch[],
  others: readonly FindingMatch[],
  text: ReadText,
): FindingMatch[] {
  return named.filter((n) => {
    if (said.some((s) => overlaps(s, n) || s.owner.value === n.owner.value)) return false;
    if (others.some((o) => overlaps(o, n))) return false;
    const beside = said.some((s) =>
      n.from > s.to ? isJoin(text, s.to + 1, n.from - 1) : isJoin(text, n.to + 1, s.from - 1),
    );
    return beside || isAlone(text, n);
  });
}

/** "And", a comma, and small words: nothing but a list stands between. */
function isJoin({ tokens }: ReadText, from: number, to: number): boolean {
  let joins = tokens[to + 1]?.comma ?? false;
  for (let i = from; i <= to; i += 1) {
    const token = tokens[i];
    if (!token || token.clause !== tokens[from - 1]?.clause) return false;
    const join = JOINS.has(token.word) || token.comma;
    if (!join && !token.filler) return false;
    joins ||= join;
  }
  return joins && to - from < LIST_REACH;
}
const LIST_REACH = 7;

/** It is all that its part of the message says. */
function isAlone({ tokens }: ReadText, n: FindingMatch): boolean {
  const first = tokens[n.from]?.segment;
  return tokens.every((t, i) => t.segment !== first || t.filler || t.negator || (n.from <= i && i <= n.to));
}

/** What the phrases that mean something as an answer to one finding's question say of it. */
export function answeredBy(
  knowledge: Knowledge,
  text: ReadText,
  matches: readonly FindingMatch[],
  hedges: readonly Match<unknown>[],
): PlacedValue[] {
  const id = matches[0]?.owner.finding;
  const finding = id === undefined ? undefined : knowledge.findings.get(id);
  if (!finding) return [];
  const kept = matches.filter((m) => !matches.some((other) => covers(other, m)));
  return settled(valuesOf(kept, text, hedges), finding.many, finding.values);
}

function valuesOf(kept: FindingMatch[], text: ReadText, hedges: readonly Match<unknown>[]): PlacedValue[] {
  const values = new Map<string, PlacedValue>();
  for (const m of kept.sort((a, b) => a.from - b.from || b.to - a.to)) {
    const { finding, value } = m.owner;
    const before = values.get(value);
    if (before && !before.denied) continue;
    const hedged = hedges.some((h) => text.tokens[h.from]?.clause === text.tokens[m.from]?.clause);
    values.set(value, {
      finding,
      value,
      denied: m.negated,
      confidence: hedged ? HEDGED : SURE,
      span: spanOf(text, m),
      from: m.from,
      to: m.to,
    });
  }
  return [...values.values()];
}

/** A match whose words are all among those of another says nothing of its own. */
function covers(other: FindingMatch, m: FindingMatch): boolean {
  if (other === m || other.owner.value === m.owner.value || Number(other.owner.weak) > Number(m.owner.weak))
    return false;
  const theirs = wordsTaken(other);
  const mine = wordsTaken(m);
  return theirs.size > mine.size && [...mine].every((i) => theirs.has(i));
}

/** Token numbers. */
function wordsTaken(m: FindingMatch): Set<number> {
  const words = new Set<number>();
  for (const { from, to } of m.taken) for (let i = from; i <= to; i += 1) words.add(i);
  return words;
}

/** "Ice on the ceiling at the front": one thing has one place, the nearest, unless more are listed. */
function isFartherThan(other: FindingMatch, m: FindingMatch, text: ReadText): boolean {
  if (other === m || other.owner.value === m.owner.value || other.owner.weak || m.taken.length < 2) return false;
  const [mFirst, mLast] = [m.taken[0], m.taken.at(-1)];
  const [oFirst, oLast] = [other.taken[0], other.taken.at(-1)];
  if (!mFirst || !mLast || !oFirst || !oLast || other.taken.length < 2) return false;
  if (mFirst.from === oFirst.from && mFirst.to === oFirst.to && oLast.to < mLast.from)
    return !isList(text, oLast.to + 1, mLast.from);
  if (mLast.from === oLast.from && mLast.to === oLast.to && oFirst.from > mFirst.to)
    return !isList(text, mFirst.to + 1, oFirst.from);
  return false;
}

const JOINS = new Set(['and', 'or', 'plus', 'also', 'then', 'to']);
function isList({ tokens }: ReadText, from: number, to: number): boolean {
  for (let j = from; j <= to; j += 1) if (tokens[j]?.comma || (j < to && JOINS.has(tokens[j]?.word ?? ''))) return true;
  return false;
}

const stretchesOver = (other: FindingMatch, m: FindingMatch): boolean => other.from <= m.from && other.to >= m.to;
const overlaps = (other: FindingMatch, m: FindingMatch): boolean => other.from <= m.to && other.to >= m.from;

/** "Not on the floor, it's on the back": bare places count beside each other once one of them is denied. */
function counts(
  m: FindingMatch,
  own: readonly FindingMatch[],
  others: readonly FindingMatch[],
  lenient: boolean,
): boolean {
  if (others.some((o) => overlaps(o, m))) return false;
  return lenient || own.some((o) => o.negated);
}

/**
 * A finding that holds one value at a time: the last one said, and what was ruled out. Two values in one breath leave
 * it less sure. A denied value of two says the other.
 */
function settled(values: readonly PlacedValue[], many: boolean, allowed: readonly string[]): PlacedValue[] {
  if (many) return [...values];
  const said = values.filter((v) => !v.denied);
  const denied = values.filter((v) => v.denied);
  const last = said.at(-1);
  if (last) {
    // of two that share words the longer is meant
    const longest = said
      .filter((v) => v.from <= last.to && last.from <= v.to)
      .reduce((a, b) => (b.to - b.from > a.to - a.from ? b : a), last);
    const apart = said.some((v) => v.to < longest.from || v.from > longest.to);
    return [{ ...longest, confidence: apart ? Math.min(longest.confidence, HEDGED) : longest.confidence }, ...denied];
  }
  const first = denied[0];
  if (first && allowed.length === 2) {
    const other = allowed.find((v) => v !== first.value);
    if (other) return [{ ...first, value: other, denied: false }];
  }
  return denied;
}
