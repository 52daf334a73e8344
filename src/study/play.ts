/** One made-up caller, one policy, to the end: it asks, decides, and goes on where the decision was the wrong one. */
import { beliefOf, ranking, type Belief, type Ranked } from '../diagnosis/belief.js';
import { appliesTo, candidatesOf, openedIn, type Gate } from '../diagnosis/candidates.js';
import { repairFactors } from '../diagnosis/observe.js';
import { isWorthAsking, planned, situation, type Candidate, type Plan } from '../diagnosis/plan.js';
import { decisionsFor, type Decision } from '../diagnosis/remedies.js';
import { settle } from '../diagnosis/settle.js';
import type { Step } from '../knowledge/facts.js';
import { permit } from '../safety/permit.js';
import type { Caller } from './caller.js';
import { carryOut } from './carry-out.js';
import { answered, atFirst, type Mind, type Standing, type World } from './standing.js';

/** What a policy sees; all of it is reckoned when it is first asked for. */
export interface Sight {
  readonly mind: Mind;
  readonly belief: Belief;
  readonly candidates: () => readonly Candidate[];
  /** what has failed already is left out */
  readonly decisions: readonly Decision[];
  readonly ranked: () => readonly Ranked[];
  /** what the program would do */
  readonly ours: () => Plan;
  /** whether the program would ask nothing more */
  readonly decides: () => boolean;
  /** the decision that costs least now, what it is expected to cost, and how much more that is than knowing the cause, minutes */
  readonly now: () => { readonly decision: Decision; readonly cost: number; readonly gap: number };
}

/** To ask; to decide, by the program's rule for visits; to do a repair whatever the rule says. */
export type Act =
  | { readonly kind: 'ask'; readonly step: Step }
  | { readonly kind: 'decide'; readonly decision: Decision }
  | { readonly kind: 'do'; readonly decision: Decision };
export type TradePolicy = (sight: Sight) => Act;

export function sightOf(mind: Mind, { state, evidence }: Standing): Sight {
  const { knowledge, model, words } = mind;
  const belief = beliefOf(model, evidence, repairFactors(knowledge, model, state));
  const failed = state.failed.map((f) => f.remedy);
  const decisions = decisionsFor(knowledge, model, words, failed);
  const gate = (step: Step): Gate => {
    const allowed = permit(knowledge, state, words, step);
    if (allowed.kind === 'allow') return { kind: 'open' };
    return allowed.kind === 'first' ? { kind: 'first', finding: allowed.finding } : { kind: 'shut' };
  };
  const candidates = once(() => candidatesOf(knowledge, state, gate, NOTHING_USELESS));
  const ranked = once(() => ranking(model, belief));
  const here = once(() => situation(knowledge, model, belief, candidates(), decisions));
  const ours = once(() => planned(model, ranked(), candidates(), decisions, here()));
  return {
    mind,
    belief,
    candidates,
    decisions,
    ranked,
    ours,
    decides: once(() => !isWorthAsking(here()) && ours().kind === 'decide'),
    now: once(() => {
      const { b, leaf, now } = situation(knowledge, model, belief, [], decisions);
      return { decision: decisions[now.decision]!, cost: now.cost, gap: now.cost - leaf.known(b, 1) };
    }),
  };
}
const NOTHING_USELESS: ReadonlySet<string> = new Set();

function once<T>(reckon: () => T): () => T {
  let kept: { readonly value: T } | null = null;
  return () => (kept ??= { value: reckon() }).value;
}

/** One act further. */
export function act(world: World, caller: Caller, standing: Standing, sight: Sight, chosen: Act): Standing {
  const { mind } = sight;
  if (chosen.kind === 'ask') return asked(mind, world, caller, standing, chosen.step);
  const { knowledge, model, words } = mind;
  const { decision } =
    chosen.kind === 'do' ? chosen : settle(knowledge, model, sight.ranked(), words, sight.decisions, chosen.decision);
  return carryOut(world, caller, standing, decision.remedy);
}

/** `seen` is called before each act. */
export function play(
  mind: Mind,
  world: World,
  caller: Caller,
  policy: TradePolicy,
  seen: (sight: Sight, chosen: Act) => void = () => undefined,
): Standing {
  let standing = atFirst(mind, caller);
  while (standing.end === null) {
    const sight = sightOf(mind, standing);
    const chosen = policy(sight);
    seen(sight, chosen);
    standing = act(world, caller, standing, sight, chosen);
  }
  return standing;
}

/** What has to be settled before a step, or the step itself. */
function settledFirst(mind: Mind, standing: Standing, step: Step): Step {
  const { knowledge, words } = mind;
  const applies = appliesTo(knowledge, standing.state, step);
  const allowed = permit(knowledge, standing.state, words, step);
  const first = applies.kind === 'first' ? applies.finding : allowed.kind === 'first' ? allowed.finding : null;
  const finding = first === null ? undefined : knowledge.findings.get(first);
  return finding && finding.id !== step.id ? settledFirst(mind, standing, finding) : step;
}

function asked(mind: Mind, world: World, caller: Caller, standing: Standing, wanted: Step): Standing {
  const { state } = standing;
  const { costs } = world.of;
  const step = settledFirst(mind, standing, wanted);
  // a question that was answered "not sure" comes again only to watch for the answer
  const watching = state.facts[step.id]?.notSure === true;
  const real = (watching && world.of.findings.get(step.id)?.watch) || world.of.steps.get(step.id) || step;
  const opened = openedIn(mind.knowledge, state);
  let minutes = real.minutes + real.waitHours * costs.waitHour;
  minutes += costs.perQuestion * (1 + (state.questions / costs.tiresAfter) ** 3);
  for (const name of step.needs.open) if (!opened.has(name)) minutes += world.of.access.get(name)?.minutes ?? 0;
  const value = watching || caller.tells(step.id) ? caller.shows(step.id) : null;
  const now: Standing = {
    ...standing,
    minutes: standing.minutes + minutes,
    state: {
      ...state,
      questions: state.questions + 1,
      asked: { ...state.asked, [step.id]: (state.asked[step.id] ?? 0) + 1 },
    },
  };
  return answered(mind, now, step.id, value);
}
