/**
 * What the phrases say and what the second reader takes it for, as one: where both agree it is taken, what only the
 * second is sure of is taken less surely, what it half believes is offered as a question, and so is a phrase in whose
 * sentence it sees nothing of the kind. It reads no word itself.
 */
import type { Knowledge } from '../knowledge/facts.js';
import { NEEDED_FINDINGS as F } from '../knowledge/named.js';
import { spanOf, type ReadText } from '../message/phrases.js';
import type { Reply } from './answers.js';
import type { FoundValue, PlacedValue } from './findings.js';
import type { Likely } from './second-reader.js';

export interface TwoReaders {
  readonly found: readonly PlacedValue[];
  /** not taken; the likeliest first */
  readonly doubtful: readonly Likely[];
}

/** From memory; several settings were compared by their figures on the sentences that are not taught, which are a little optimistic for it. */
const TAKEN = 0.6;
const OFFERED = 0.55;
/** what the phrases found is not taken where the second reader finds it less likely than this */
const UNLIKELY = 0.1;
/** A likeness is less sure than a phrase. */
const BY_LIKENESS = 0.8;

/** `asked`: the finding whose question stands; what its phrases say is an answer, and needs no second reader. */
export function withSecond(
  knowledge: Knowledge,
  text: ReadText,
  phrases: readonly PlacedValue[],
  likely: readonly Likely[],
  asked: string | null,
): TwoReaders {
  const doubtful: Likely[] = [];
  const found = phrases.filter((f) => {
    if (f.finding === asked || f.denied) return true;
    const p = likely.find((l) => l.finding === f.finding && l.value === f.value)?.p ?? 0;
    if (p >= UNLIKELY) return true;
    doubtful.push({ ...f, p });
    return false;
  });
  for (const l of likely) {
    const finding = knowledge.findings.get(l.finding);
    if (!finding || l.finding === asked) continue;
    const known = found.some((f) => f.finding === l.finding && (f.value === l.value || !(finding.many || f.denied)));
    // the same words say one value of it
    const there = found.some((f) => f.finding === l.finding && !f.denied && f.from <= l.to && l.from <= f.to);
    if (known || there) continue;
    const takes = l.p >= TAKEN && !needsWords(knowledge, l.finding);
    if (takes) found.push(taken(text, l));
    else if (l.p >= OFFERED) doubtful.push(l);
  }
  return {
    found,
    doubtful: doubtful.filter((d) => !found.some((f) => f.finding === d.finding)).sort((a, b) => b.p - a.p),
  };
}

/**
 * That the plug is out, what a person may do, how a repair went: it opens steps that could hurt, or ends the case, so a
 * likeness is not enough.
 */
const needsWords = (knowledge: Knowledge, finding: string): boolean =>
  finding === F.result || finding === F.power || knowledge.findings.get(finding)?.kind === 'person';

const taken = (text: ReadText, l: Likely): PlacedValue => ({
  finding: l.finding,
  value: l.value,
  denied: false,
  confidence: BY_LIKENESS,
  span: spanOf(text, l),
  from: l.from,
  to: l.to,
});

/** The answer to the question by likeness, where neither its list nor a phrase gave one; or what it half believes. */
export function answeredByLikeness(
  knowledge: Knowledge,
  text: ReadText,
  reply: Reply,
  likely: readonly Likely[],
  asked: string,
): { readonly found: readonly FoundValue[]; readonly half: Likely | null } {
  if (reply.notSure || reply.found.some((f) => f.finding === asked)) return { found: reply.found, half: null };
  const own = likely.filter((l) => l.finding === asked);
  const sure = needsWords(knowledge, asked) ? [] : own.filter((l) => l.p >= TAKEN);
  if (sure.length === 0) return { found: reply.found, half: own.find((l) => l.p >= OFFERED) ?? null };
  const many = knowledge.findings.get(asked)?.many ?? false;
  return { found: [...reply.found, ...(many ? sure : sure.slice(0, 1)).map((l) => taken(text, l))], half: null };
}
