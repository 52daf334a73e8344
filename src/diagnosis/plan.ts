/**
 * The next step: the one with the least expected cost to a finished decision, looking two steps ahead, or the
 * decision itself where no question is worth its minutes. Deterministic; bounded by the caps below.
 */
import type { Knowledge, Step } from '../knowledge/facts.js';
import type { Belief, Ranked } from './belief.js';
import { groupOf, together } from './evidence.js';
import type { Model } from './model.js';
import type { Decision } from './remedies.js';

/** A step that may be taken now: what it costs, given what is open already. */
export interface Candidate {
  readonly step: Step;
  /** minutes for the step itself and for answering what must be known first */
  readonly minutes: number;
  /** what it opens, in minutes by name; what is open already is left out */
  readonly opens: ReadonlyMap<string, number>;
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
export interface Caps {
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
  const b0 = normalise(Float64Array.from(kept, (h) => belief.p[h] ?? 0));
  const losses = pruned(decisions, kept, b0);
  const outcomes = candidates.map((c) => outcomesOf(knowledge, model, belief, c.step, kept));
  const free = new Set<string>();

  const now = cheapest(losses, b0);
  const leaf = leafOf(
    losses,
    b0,
    candidates.map((c, i) => ({ price: price(c, free), outcomes: outcomes[i] ?? [] })),
  );
  const one = candidates.map((c, i) => ({ i, cost: price(c, free) + expected(outcomes[i] ?? [], b0, leaf) }));
  const order = [...one].sort((x, y) => x.cost - y.cost || x.i - y.i);
  const second = order.slice(0, caps.second).map((o) => o.i);

  let best = { cost: now.cost, i: -1 };
  for (const { i } of order.slice(0, caps.first)) {
    const candidate = candidates[i];
    if (!candidate) continue;
    const opened = new Set(candidate.opens.keys());
    const cost =
      price(candidate, free) +
      expected(outcomes[i] ?? [], b0, (b) => {
        let least = leaf(b);
        for (const j of second) {
          const next = candidates[j];
          if (j === i || !next) continue;
          const own = price(next, opened);
          if (own >= least) continue;
          least = Math.min(least, own + expected(outcomes[j] ?? [], b, leaf));
        }
        return least;
      });
    if (cost < best.cost - 1e-9) best = { cost, i };
  }
  const chosen = candidates[best.i];
  const decision = decisions[losses[now.i]?.index ?? 0];
  if (!decision) throw new Error('there is nothing to decide');
  if (!chosen) return { kind: 'decide', decision, cost: now.cost };
  return {
    kind: 'ask',
    step: chosen.step,
    tells: toldApart(model, ranked, chosen.step),
    minutes: price(chosen, free),
    saves: now.cost - best.cost,
  };
}

function mostProbable(p: Float64Array, count: number): number[] {
  return [...p.keys()].sort((x, y) => (p[y] ?? 0) - (p[x] ?? 0) || x - y).slice(0, count);
}

interface Loss {
  readonly index: number;
  readonly loss: Float64Array;
}

/** Only decisions that are the best under some hypothesis kept, and handing over. */
function pruned(decisions: readonly Decision[], kept: readonly number[], b: Float64Array): Loss[] {
  const useful = new Set<number>();
  kept.forEach((h, k) => {
    let least = 0;
    decisions.forEach((d, i) => {
      if ((d.loss[h] ?? 0) < (decisions[least]?.loss[h] ?? 0)) least = i;
    });
    if ((b[k] ?? 0) > 1e-4) useful.add(least);
  });
  decisions.forEach((d, i) => {
    if (d.remedy === null) useful.add(i);
  });
  return [...useful]
    .sort((x, y) => x - y)
    .map((index) => ({ index, loss: Float64Array.from(kept, (h) => decisions[index]?.loss[h] ?? 0) }));
}

function cheapest(losses: readonly Loss[], b: Float64Array): { cost: number; i: number } {
  let best = { cost: Infinity, i: 0 };
  for (let i = 0; i < losses.length; i += 1) {
    const loss = losses[i]?.loss;
    if (!loss) continue;
    let cost = 0;
    for (let k = 0; k < b.length; k += 1) cost += (b[k] ?? 0) * (loss[k] ?? 0);
    if (cost < best.cost) best = { cost, i };
  }
  return best;
}

function price(candidate: Candidate, opened: ReadonlySet<string>): number {
  let minutes = candidate.minutes;
  for (const [name, cost] of candidate.opens) if (!opened.has(name)) minutes += cost;
  return minutes;
}

/**
 * The cost still to come after the steps looked at: never more than deciding now, never less than knowing the cause.
 * Between the two it counts the bits about the decision that are missing, at the price per bit of the questions that
 * are left, as far as those can bring them.
 */
function leafOf(
  losses: readonly Loss[],
  b0: Float64Array,
  steps: readonly { price: number; outcomes: readonly Outcome[] }[],
): (b: Float64Array) => number {
  const classes = Array.from(b0, (_, k) => {
    let best = 0;
    losses.forEach((l, i) => {
      if ((l.loss[k] ?? 0) < (losses[best]?.loss[k] ?? 0)) best = i;
    });
    return best;
  });
  const missing = (b: Float64Array): number => {
    const mass = new Float64Array(losses.length);
    b.forEach((p, k) => (mass[classes[k] ?? 0] = (mass[classes[k] ?? 0] ?? 0) + p));
    return mass.reduce((sum, p) => (p > 0 ? sum - p * Math.log2(p) : sum), 0);
  };
  const known = (b: Float64Array): number =>
    b.reduce((sum, p, k) => sum + p * (losses[classes[k] ?? 0]?.loss[k] ?? 0), 0);
  const all = missing(b0);
  const told = steps
    .map((s) => ({ bits: all - expected(s.outcomes, b0, missing), price: s.price }))
    .filter((s) => s.bits > LEAST_BITS)
    .sort((x, y) => x.price / x.bits - y.price / y.bits)
    .slice(0, COUNTED);
  const bits = told.reduce((sum, s) => sum + s.bits, 0);
  const perBit = bits > 0 ? told.reduce((sum, s) => sum + s.price, 0) / bits : Infinity;
  return (b) => {
    const now = cheapest(losses, b).cost;
    if (bits <= 0) return now;
    const open = missing(b);
    const reached = open > 0 ? Math.min(1, (bits * OVERLAP) / open) : 1;
    return Math.min(now, reached * (known(b) + perBit * open) + (1 - reached) * now);
  };
}
/** A step that tells less than this is no way to the decision. */
const LEAST_BITS = 0.01;
const COUNTED = 6;
/** Steps tell partly the same: so much of the sum of their bits is counted on. */
const OVERLAP = 0.6;

/** P(value | hypothesis) and the factor it puts on the belief, over the hypotheses kept. */
interface Outcome {
  readonly chance: Float64Array;
  readonly factor: Float64Array;
}

function expected(outcomes: readonly Outcome[], b: Float64Array, worth: (after: Float64Array) => number): number {
  let total = 0;
  let mass = 0;
  const after = new Float64Array(b.length);
  for (const { chance, factor } of outcomes) {
    let p = 0;
    let norm = 0;
    for (let k = 0; k < b.length; k += 1) {
      p += (b[k] ?? 0) * (chance[k] ?? 0);
      const w = (b[k] ?? 0) * (factor[k] ?? 0);
      after[k] = w;
      norm += w;
    }
    if (p < 1e-9 || norm <= 0) continue;
    for (let k = 0; k < b.length; k += 1) after[k] = (after[k] ?? 0) / norm;
    total += p * worth(after);
    mass += p;
  }
  return mass > 0 ? total / mass : worth(b);
}

function outcomesOf(
  knowledge: Knowledge,
  model: Model,
  belief: Belief,
  step: Step,
  kept: readonly number[],
): Outcome[] {
  const rows = model.chances(step);
  const base = step.table?.base ?? new Float64Array(step.values.length);
  const chances = step.values.map((_, v) => Float64Array.from(kept, (h) => rows[v]?.[h] ?? 0));
  const planned = step.many ? shares(chances) : chances;
  return step.values.map((value, v) => {
    const chance = planned[v] ?? new Float64Array(kept.length);
    const said = belief.groups.get(groupOf(knowledge, step.id, value) ?? '');
    const plain = step.many ? Float64Array.from(kept, (h) => rows[v]?.[h] ?? 0) : chance;
    if (!said) return { chance, factor: plain };
    const items = said.map((item) => Float64Array.from(kept, (h) => item[h] ?? 0));
    const ratio = plain.map((p) => Math.log(Math.max(p, 1e-12) / (base[v] ?? 1)));
    const prior = Float64Array.from(kept, (h) => model.prior[h] ?? 0);
    const before = together(items, prior, model.repeated);
    const after = together([...items, ratio], prior, model.repeated);
    const factor = after.map((l, k) => Math.exp(l - (before[k] ?? 0)));
    return { chance, factor };
  });
}

/** For a finding with several values at once: the chance that each is the one named. */
function shares(chances: readonly Float64Array[]): Float64Array[] {
  return chances.map((row) =>
    row.map((p, k) => {
      let sum = 0;
      for (const other of chances) sum += other[k] ?? 0;
      return sum > 0 ? p / sum : 0;
    }),
  );
}

/** Which two of the leading causes this step tells apart best; null when it tells none. */
function toldApart(model: Model, ranked: readonly Ranked[], step: Step): [string, string] | null {
  const rows = model.chances(step);
  const leading = ranked.filter((r) => r.fault !== 'something-else').slice(0, 6);
  let best: { pair: [string, string]; gap: number } | null = null;
  leading.forEach((x, i) => {
    for (const y of leading.slice(i + 1)) {
      const a = model.faults.indexOf(x.fault);
      const b = model.faults.indexOf(y.fault);
      const apart = rows.reduce((sum, row) => sum + Math.abs((row[a] ?? 0) - (row[b] ?? 0)), 0) / 2;
      const gap = apart * Math.sqrt(x.probability * y.probability);
      if (apart > 0.2 && (!best || gap > best.gap)) best = { pair: [x.fault, y.fault], gap };
    }
  });
  return (best as { pair: [string, string] } | null)?.pair ?? null;
}

function normalise(b: Float64Array): Float64Array {
  const sum = b.reduce((s, p) => s + p, 0);
  return b.map((p) => p / sum);
}
