/**
 * The next step: the one with the least expected cost to a finished decision, looking two steps ahead, or the
 * decision itself where no question is worth its minutes. Deterministic; bounded by the caps below.
 */
import type { Knowledge, Step } from '../knowledge/facts.js';
import type { Belief, Ranked } from './belief.js';
import { leafOf, type Leaf } from './leaf.js';
import type { Model } from './model.js';
import { after, outcomesOf, type Outcome, type Worth } from './outcomes.js';
import type { Decision } from './remedies.js';

/** A step that may be taken now: what it costs, given what is open already. */
export interface Candidate {
  readonly step: Step;
  /** minutes for the step itself and for answering what must be known first */
  readonly minutes: number;
  /** what it opens, in minutes by name; what is open already is left out */
  readonly opens: ReadonlyMap<string, number>;
  /** steps that have to come before it; it is looked at only behind them */
  readonly after: readonly string[];
}

export type Plan =
  | {
      readonly kind: 'ask';
      readonly step: Step;
      readonly tells: readonly [string, string] | null;
      readonly minutes: number;
      readonly saves: number;
    }
  | { readonly kind: 'decide'; readonly decision: Decision; readonly cost: number };

/** How much is looked at: the most probable hypotheses, the most promising first and second steps. */
interface Caps {
  readonly hypotheses: number;
  readonly first: number;
  readonly second: number;
}
const CAPS: Caps = { hypotheses: 64, first: 8, second: 12 };

export function plan(
  knowledge: Knowledge,
  model: Model,
  belief: Belief,
  ranked: readonly Ranked[],
  candidates: readonly Candidate[],
  decisions: readonly Decision[],
  caps: Caps = CAPS,
): Plan {
  const kept = mostProbable(belief.p, caps.hypotheses);
  const b0 = normalised(Float64Array.from(kept, (h) => belief.p[h] ?? 0));
  const outcomes = candidates.map((c) => outcomesOf(knowledge, model, belief, c.step, kept));
  const opened = new Set<string>();
  const leaf = leafOf(
    decisions,
    kept,
    b0,
    candidates.map((c, i) => ({ price: price(c, opened), outcomes: outcomes[i] ?? [] })),
  );
  const now = leaf.decide(b0);
  const buffers = [new Float64Array(kept.length), new Float64Array(kept.length)] as const;

  const order = candidates
    .map((c, i) => ({ i, cost: price(c, opened) + after(outcomes[i] ?? [], b0, 1, buffers[0], leaf.worth) }))
    .filter(({ i }) => candidates[i]?.after.length === 0)
    .sort((x, y) => x.cost - y.cost || x.i - y.i);
  const second = order.slice(0, caps.second).map((o) => o.i);
  const behind = candidates.flatMap((c, i) => (c.after.length > 0 ? [i] : []));

  let best = { cost: now.cost, i: -1 };
  const leads = order.filter(({ i }) =>
    behind.some((j) => candidates[j]?.after.includes(candidates[i]?.step.id ?? '')),
  );
  for (const { i } of new Set([...order.slice(0, caps.first), ...leads])) {
    const candidate = candidates[i];
    if (!candidate) continue;
    const open = new Set(candidate.opens.keys());
    const opensUp = behind.filter((j) => candidates[j]?.after.every((id) => id === candidate.step.id));
    const next = [...second, ...opensUp];
    const prices = next.map((j) => (j === i || !candidates[j] ? Infinity : price(candidates[j], open)));
    const worth: Worth = (b, sum) => bestAfter(b, sum, next, prices, outcomes, buffers[1], leaf);
    const own = price(candidate, opened);
    const cost = own + after(outcomes[i] ?? [], b0, 1, buffers[0], worth, best.cost - own);
    if (cost < best.cost - 1e-9) best = { cost, i };
  }
  const chosen = candidates[best.i];
  const decision = decisions[now.decision];
  if (!decision) throw new Error('there is nothing to decide');
  if (!chosen) return { kind: 'decide', decision, cost: now.cost };
  const minutes = price(chosen, opened);
  return {
    kind: 'ask',
    step: chosen.step,
    tells: toldApart(model, ranked, chosen.step),
    minutes,
    saves: now.cost - best.cost,
  };
}

/** The least cost from a belief on: decided there, or one more step and then the leaf. */
function bestAfter(
  b: Float64Array,
  sum: number,
  steps: readonly number[],
  prices: readonly number[],
  outcomes: readonly (readonly Outcome[])[],
  buffer: Float64Array,
  leaf: Leaf,
): number {
  let least = leaf.worth(b, sum);
  const known = leaf.known(b, sum);
  for (let n = 0; n < steps.length; n += 1) {
    const own = prices[n] ?? Infinity;
    if (own >= least) continue;
    const brings = outcomes[steps[n]!]!;
    if (own + known >= least && isPlain(brings)) continue;
    const cost = own + after(brings, b, sum, buffer, leaf.worth, least - own);
    if (cost < least) least = cost;
  }
  return least;
}

/** Whether each outcome moves the belief just as likely as it is: then the mean belief after it is the one before. */
const isPlain = (outcomes: readonly Outcome[]): boolean => outcomes.every((o) => o.chance === o.factor);

function mostProbable(p: Float64Array, count: number): number[] {
  return [...p.keys()].sort((x, y) => (p[y] ?? 0) - (p[x] ?? 0) || x - y).slice(0, count);
}

function price(candidate: Candidate, opened: ReadonlySet<string>): number {
  let minutes = candidate.minutes;
  for (const [name, cost] of candidate.opens) if (!opened.has(name)) minutes += cost;
  return minutes;
}

/** Which two of the leading causes this step tells apart best; null when it tells none. */
function toldApart(model: Model, ranked: readonly Ranked[], step: Step): [string, string] | null {
  const rows = model.chances(step);
  const leading = ranked.filter((r) => r.fault !== 'something-else').slice(0, LEADING);
  let pair: [string, string] | null = null;
  let widest = 0;
  leading.forEach((x, i) => {
    for (const y of leading.slice(i + 1)) {
      const a = model.faults.indexOf(x.fault);
      const b = model.faults.indexOf(y.fault);
      const apart = rows.reduce((sum, row) => sum + Math.abs((row[a] ?? 0) - (row[b] ?? 0)), 0) / 2;
      const gap = apart * Math.sqrt(x.probability * y.probability);
      if (apart > APART && gap > widest) {
        pair = [x.fault, y.fault];
        widest = gap;
      }
    }
  });
  return pair;
}
const LEADING = 6;
/** Two causes count as told apart when so much of their answers differs. */
const APART = 0.2;

function normalised(b: Float64Array): Float64Array {
  const sum = b.reduce((s, p) => s + p, 0);
  return b.map((p) => p / sum);
}
