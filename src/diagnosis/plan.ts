/**
 * The next step: the one with the least expected cost to a finished decision, looking two steps ahead, or the
 * decision itself where no question is worth its minutes. Deterministic; bounded by the caps below.
 */
import type { Knowledge, Step } from '../knowledge/facts.js';
import type { Belief, Ranked } from './belief.js';
import { leafOf, type Leaf } from './leaf.js';
import { lookAhead, priceOf, type Breadth, type Move } from './look-ahead.js';
import type { Model } from './model.js';
import { after, outcomesOf } from './outcomes.js';
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
interface Caps extends Breadth {
  readonly hypotheses: number;
}
/** A step that has to come first and cannot be taken. */
const NEVER = -1;
const CAPS: Caps = { hypotheses: 64, first: 8, second: 12 };

export function plan(
  knowledge: Knowledge,
  model: Model,
  belief: Belief,
  ranked: readonly Ranked[],
  candidates: readonly Candidate[],
  decisions: readonly Decision[],
): Plan {
  const here = situation(knowledge, model, belief, candidates, decisions);
  return planned(model, ranked, candidates, decisions, here);
}

/** The same where the situation is reckoned already. */
export function planned(
  model: Model,
  ranked: readonly Ranked[],
  candidates: readonly Candidate[],
  decisions: readonly Decision[],
  { b, moves, leaf, now }: Situation,
  caps: Breadth = CAPS,
): Plan {
  const best = lookAhead(b, moves, () => leaf, now.cost, caps);
  const chosen = candidates[best.move];
  const decision = decisions[now.decision];
  if (!decision) throw new Error('there is nothing to decide');
  if (!chosen) return { kind: 'decide', decision, cost: now.cost };
  const minutes = priceOf(chosen, NOTHING);
  return {
    kind: 'ask',
    step: chosen.step,
    tells: toldApart(model, ranked, chosen.step),
    minutes,
    saves: now.cost - best.cost,
  };
}
const NOTHING: ReadonlySet<string> = new Set();

/** What the look-ahead looks at: the most probable hypotheses, the candidates as moves, what deciding now costs. */
export interface Situation {
  readonly b: Float64Array;
  readonly moves: readonly Move[];
  readonly leaf: Leaf;
  readonly now: ReturnType<Leaf['decide']>;
}

/** `hypotheses`: so many, the most probable. `counting`: whether the leaf counts on questions behind it, or takes the decision there as the end. */
export function situation(
  knowledge: Knowledge,
  model: Model,
  belief: Belief,
  candidates: readonly Candidate[],
  decisions: readonly Decision[],
  { hypotheses = CAPS.hypotheses, counting = true } = {},
): Situation {
  const kept = mostProbable(belief.p, hypotheses);
  const b = normalised(Float64Array.from(kept, (h) => belief.p[h] ?? 0));
  const places = new Map(candidates.map((c, i) => [c.step.id, i]));
  const moves = candidates.map(({ step, minutes, opens, after: before }) => ({
    outcomes: outcomesOf(knowledge, model, belief, step, kept),
    minutes,
    opens,
    after: before.map((id) => places.get(id) ?? NEVER),
    shuts: [],
  }));
  const steps = moves.map((m) => ({ price: priceOf(m, NOTHING), outcomes: m.outcomes }));
  const leaf = leafOf(decisions, kept, b, counting ? steps : []);
  return { b, moves, leaf, now: leaf.decide(b) };
}

/** Whether one question is worth its minutes as it stands; two together may be where this says no. */
export function isWorthAsking({ b, moves, leaf, now }: Situation): boolean {
  const buffer = new Float64Array(b.length);
  return moves.some((m) => {
    if (m.after.length > 0) return false;
    const own = priceOf(m, NOTHING);
    return own + after(m.outcomes, b, 1, buffer, leaf.worth, now.cost - own) < now.cost - SURELY;
  });
}
const SURELY = 1e-6;

/** The first so many by their chance; few hypotheses count, so that only those are put in order. */
function mostProbable(p: Float64Array, count: number): number[] {
  const byChance = (x: number, y: number): number => p[y]! - p[x]! || x - y;
  const likely: number[] = [];
  for (let h = 0; h < p.length; h += 1) if (p[h]! > LIKELY) likely.push(h);
  return (likely.length >= count ? likely : [...p.keys()]).sort(byChance).slice(0, count);
}
const LIKELY = 1e-4;

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
