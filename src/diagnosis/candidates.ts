/** Which steps could be taken next and what each costs: not answered, applicable, and allowed by whoever judges safety. */
import type { CaseState } from '../case/state.js';
import type { Finding, Knowledge, Step, Watch } from '../knowledge/facts.js';
import { readingId } from '../case/state.js';
import { NEEDED_FINDINGS as F } from '../knowledge/named.js';
import type { Candidate } from './plan.js';

/** What stands before a step: nothing, a finding to ask first, or never. */
export type Gate =
  { readonly kind: 'open' } | { readonly kind: 'first'; readonly finding: string } | { readonly kind: 'shut' };

const MOST_TIMES = 2;
/** What is settled first serves other steps too: only so much of it is this step's cost. */
const SHARED = 0.5;

/** `useless`: readings taken that told nothing, and may be taken again. */
export function candidatesOf(
  knowledge: Knowledge,
  state: CaseState,
  gate: (step: Step) => Gate,
  useless: ReadonlySet<string>,
): Candidate[] {
  const opened = openedIn(knowledge, state);
  const { costs } = knowledge;
  if (state.questions >= costs.mostQuestions) return [];
  const effort = costs.perQuestion * (1 + (state.questions / costs.tiresAfter) ** 3);
  const out: Candidate[] = [];
  for (const step of knowledge.steps.values()) {
    if (
      !step.planned ||
      !step.table ||
      step.id === F.result ||
      isKnown(state, step, useless) ||
      (state.asked[step.id] ?? 0) >= MOST_TIMES
    )
      continue;
    const before = appliesTo(knowledge, state, step);
    if (before.kind === 'shut') continue;
    const after = step.needs.after.filter((id) => !isAnswered(state, id) && makesSense(knowledge, state, id));
    const safety = gate(step);
    if (safety.kind === 'shut') continue;
    let minutes = step.minutes + effort + step.waitHours * costs.waitHour;
    for (const g of [before, safety])
      if (g.kind === 'first') minutes += SHARED * ((knowledge.findings.get(g.finding)?.minutes ?? 0) + effort);
    const opens = new Map<string, number>();
    for (const name of step.needs.open)
      if (!opened.has(name)) opens.set(name, knowledge.access.get(name)?.minutes ?? 0);
    out.push({ step, minutes, opens, after });
  }
  return [...out, ...watches(knowledge, state, effort)];
}

/** What a person did not know but could find out by doing something and watching: a thaw, and what comes back. */
function watches(knowledge: Knowledge, state: CaseState, effort: number): Candidate[] {
  return [...knowledge.findings.values()].flatMap((finding) => {
    const { watch } = finding;
    const known = state.facts[finding.id];
    const asked = state.asked[finding.id] ?? 0;
    if (!watch?.roles.includes(state.role) || !known?.notSure || asked >= MOST_TIMES) return [];
    const minutes = watch.minutes + effort + watch.waitHours * knowledge.costs.waitHour;
    return [{ step: watchStep(finding, watch), minutes, opens: new Map<string, number>(), after: [] }];
  });
}

const watchStep = (finding: Finding, { ask, minutes, waitHours }: Watch): Step => ({
  ...finding,
  ask,
  minutes,
  waitHours,
});

/** Whether something is known of a step, usable or not. */
const isAnswered = (state: CaseState, id: string): boolean =>
  (state.facts[id] !== undefined && !state.facts[id].notSure) || state.readings.some((r) => readingId(r) === id);

/** What does not apply to this unit need not come first. */
function makesSense(knowledge: Knowledge, state: CaseState, id: string): boolean {
  const step = knowledge.steps.get(id);
  return step !== undefined && appliesTo(knowledge, state, step).kind !== 'shut';
}

function isKnown(state: CaseState, step: Step, useless: ReadonlySet<string>): boolean {
  if (step.about === 'finding') return state.facts[step.id] !== undefined;
  if (state.unmeasurable.includes(step.id)) return true;
  return state.readings.some((r) => readingId(r) === step.id) && !useless.has(step.id);
}

/** Whether a step makes sense for this unit; an unknown condition is asked first, "not sure" lets it pass. */
export function appliesTo(knowledge: Knowledge, state: CaseState, step: Step): Gate {
  for (const [finding, rule] of Object.entries(step.applies)) {
    const fact = state.facts[finding];
    const values = fact && !fact.notSure ? fact.values : [];
    if (values.length === 0) {
      const denied = fact?.denied ?? [];
      if ('in' in rule && rule.in.every((v) => denied.includes(v))) return { kind: 'shut' };
      if (
        !fact &&
        (state.asked[finding] ?? 0) < MOST_TIMES &&
        !(finding in step.applies && knowledge.findings.get(finding)?.id === step.id)
      )
        return { kind: 'first', finding };
      continue;
    }
    const holds = 'in' in rule ? values.some((v) => rule.in.includes(v)) : !values.some((v) => rule.not.includes(v));
    if (!holds) return { kind: 'shut' };
  }
  return { kind: 'open' };
}

/** What is open already: whatever an answered step needed open. */
export function openedIn(knowledge: Knowledge, state: CaseState): Set<string> {
  const opened = new Set<string>();
  const add = (step: Step | undefined): void => step?.needs.open.forEach((name) => opened.add(name));
  for (const [id, fact] of Object.entries(state.facts))
    if (!fact.notSure && fact.values.length > 0) add(knowledge.findings.get(id));
  for (const r of state.readings) add(knowledge.readings.get(readingId(r)));
  return opened;
}
