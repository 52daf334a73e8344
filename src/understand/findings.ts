/** Phrase matches into findings: the longest wins inside a finding, negated ones are denied, hedged ones are less sure. */
import type { Knowledge } from '../knowledge/facts.js';
import { spanOf, type Match, type ReadText } from '../message/phrases.js';
import type { Meaning } from './ear.js';

export interface FoundValue {
  readonly finding: string;
  readonly value: string;
  readonly denied: boolean;
  readonly confidence: number;
  readonly span: string | null;
}

type FindingMeaning = Extract<Meaning, { kind: 'finding' }>;

/** A phrase is as sure as this; a hedge in its clause makes it less sure. */
const SURE = 0.9;
const HEDGED = 0.6;

export function findingsOf(
  knowledge: Knowledge,
  text: ReadText,
  all: readonly Match<Meaning>[],
  hedges: readonly Match<unknown>[],
): FoundValue[] {
  const byFinding = new Map<string, Match<FindingMeaning>[]>();
  for (const m of all) {
    if (m.owner.kind !== 'finding') continue;
    const list = byFinding.get(m.owner.finding);
    if (list) list.push(m as Match<FindingMeaning>);
    else byFinding.set(m.owner.finding, [m as Match<FindingMeaning>]);
  }
  const found: FoundValue[] = [];
  for (const [id, matches] of byFinding) {
    const finding = knowledge.findings.get(id);
    if (!finding) continue;
    const kept = matches.filter((m) => !matches.some((other) => covers(other, m)));
    const values = new Map<string, FoundValue & { readonly from: number }>();
    for (const m of kept.sort((a, b) => a.from - b.from || a.to - b.to)) {
      const hedged = hedges.some((h) => text.tokens[h.from]?.clause === text.tokens[m.from]?.clause);
      const { value } = m.owner;
      const before = values.get(value);
      if (before && !before.denied) continue;
      values.set(value, {
        finding: id,
        value,
        denied: m.negated,
        confidence: hedged ? HEDGED : SURE,
        span: spanOf(text, m),
        from: m.from,
      });
    }
    found.push(...settled([...values.values()], finding.many, finding.values));
  }
  return found;
}

/** A match inside a longer one of the same finding says nothing of its own. */
function covers(other: Match<FindingMeaning>, m: Match<FindingMeaning>): boolean {
  if (other === m || other.owner.value === m.owner.value) return false;
  return other.from <= m.from && other.to >= m.to && other.to - other.from > m.to - m.from;
}

/**
 * A finding that holds one value at a time: the last one said, and what was ruled out. Two values in one breath leave
 * it less sure. A denied value of two says the other.
 */
function settled(values: readonly FoundValue[], many: boolean, allowed: readonly string[]): FoundValue[] {
  const plain = values.map(({ finding, value, denied, confidence, span }) => ({
    finding,
    value,
    denied,
    confidence,
    span,
  }));
  if (many) return plain;
  const said = plain.filter((v) => !v.denied);
  const denied = plain.filter((v) => v.denied);
  const last = said.at(-1);
  if (last)
    return [{ ...last, confidence: said.length > 1 ? Math.min(last.confidence, HEDGED) : last.confidence }, ...denied];
  const first = denied[0];
  if (first && allowed.length === 2) {
    const other = allowed.find((v) => v !== first.value);
    if (other) return [{ ...first, value: other, denied: false }];
  }
  return denied;
}
