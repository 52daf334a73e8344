/**
 * What was understood, as events on the case: new facts, what they replace, and the one thing to confirm. Corrections
 * replace at once; another text that contradicts an earlier value counts from now on and is asked about once.
 */
import type { CaseEvent, Measurement, Question } from '../case/events.js';
import { readingId, type CaseState } from '../case/state.js';
import type { Knowledge } from '../knowledge/facts.js';
import type { Understood, Withdrawn } from '../message/outgoing.js';
import type { FoundValue } from './findings.js';

export interface Proposal {
  readonly events: readonly CaseEvent[];
  readonly understood: readonly Understood[];
  readonly withdrawn: readonly Withdrawn[];
  readonly confirm: Question | null;
}

export interface Speaker {
  readonly at: string;
  readonly by: string;
}

/** One value as a question; `was`: the one it would replace. */
export const confirmOf = (finding: string, value: string, was: string | null): Question => ({
  kind: 'confirm',
  finding,
  reading: null,
  about: null,
  value,
  was,
  notBefore: null,
});

/** Facts from words. `replace`: words of correction, or the answer to what was asked. */
export function proposeFacts(
  knowledge: Knowledge,
  state: CaseState,
  found: readonly FoundValue[],
  correction: boolean,
  who: Speaker,
): Proposal {
  const events: CaseEvent[] = [];
  const withdrawn: Withdrawn[] = [];
  let confirm: Question | null = null;
  for (const [finding, values] of grouped(found)) {
    const { many } = knowledge.findings.get(finding) ?? { many: false };
    const said = values.filter((v) => !v.denied);
    const denied = values.filter((v) => v.denied).map((v) => v.value);
    const confidence = Math.max(...values.map((v) => v.confidence));
    const before = state.facts[finding];
    const now = said.map((v) => v.value);
    const answer = said.some((v) => v.span === null);
    const replaces = answer || correction || !many;
    const gone = before
      ? before.values.filter((v) => (replaces && now.length > 0 ? !now.includes(v) : denied.includes(v)))
      : [];
    for (const value of gone) withdrawn.push({ finding, reading: null, value });
    if (!many && !answer && !correction && gone.length > 0 && now.length > 0 && state.question?.finding !== finding)
      confirm ??= confirmOf(finding, now[0] ?? '', gone[0] ?? null);
    events.push({
      type: 'found',
      ...who,
      finding,
      values: now,
      denied,
      notSure: false,
      confidence,
      from: answer ? 'answer' : 'text',
      replace: replaces && now.length > 0,
    });
  }
  return {
    events,
    withdrawn,
    confirm,
    understood: found.map((f) => ({
      finding: f.finding,
      value: f.value,
      denied: f.denied,
      confidence: f.confidence,
      span: f.span,
    })),
  };
}

/** A tap, or an answer that a front end states: always sure, always replaces. */
export function proposeAnswer(
  knowledge: Knowledge,
  state: CaseState,
  finding: string,
  values: readonly string[],
  who: Speaker,
): Proposal {
  const notSure = values.includes('not-sure');
  const now = notSure ? [] : values;
  const gone = (state.facts[finding]?.values ?? []).filter((v) => !now.includes(v));
  return {
    events: [
      {
        type: 'found',
        ...who,
        finding,
        values: [...now],
        denied: [],
        notSure,
        confidence: 1,
        from: 'answer',
        replace: true,
      },
    ],
    understood: values.map((value) => ({ finding, value, denied: false, confidence: 1, span: null })),
    withdrawn: gone.map((value) => ({ finding, reading: null, value })),
    confirm: null,
  };
}

/** A reading taken: an earlier one under the same conditions is replaced. */
export function proposeReading(
  state: CaseState,
  next: CaseState,
  measurement: Measurement,
  who: Speaker,
): Pick<Proposal, 'events' | 'withdrawn'> {
  const event: CaseEvent = { type: 'measured', ...who, measurement };
  const id = readingId(measurement);
  const gone = state.readings.filter((r) => readingId(r) === id && !next.readings.includes(r));
  return { events: [event], withdrawn: gone.map((r) => ({ finding: null, reading: id, value: r.value })) };
}

function grouped(found: readonly FoundValue[]): Map<string, FoundValue[]> {
  const by = new Map<string, FoundValue[]>();
  for (const f of found) by.set(f.finding, [...(by.get(f.finding) ?? []), f]);
  return by;
}
