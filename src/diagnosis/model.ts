/**
 * Beliefs over causes, the worth of each next step, and when to stop. This room reasons exactly over single faults
 * and pairs of faults; it never speaks, never judges a reading and knows nothing of safety, which outvotes it.
 *
 * This file: the hypotheses and how likely each makes every value, from the tables of the knowledge folder.
 */
import type { Knowledge, Step } from '../knowledge/facts.js';

/** One fault alone (b = -1) or two together; indices into `Model.faults`. */
interface Hypothesis {
  readonly a: number;
  readonly b: number;
}

export interface Model {
  readonly faults: readonly string[];
  readonly hypotheses: readonly Hypothesis[];
  readonly prior: Float64Array;
  readonly logPrior: Float64Array;
  /** weight of a fact that is witnessed again */
  readonly repeated: number;
  /** P(value | hypothesis) of a step: one array over the hypotheses for each value */
  readonly chances: (step: Step) => readonly Float64Array[];
}

const models = new WeakMap<Knowledge, Model>();

/** The model of a knowledge folder; built once. */
export function modelOf(knowledge: Knowledge): Model {
  let model = models.get(knowledge);
  if (!model) models.set(knowledge, (model = build(knowledge)));
  return model;
}

function build(knowledge: Knowledge): Model {
  const faults = knowledge.faultIds;
  const share = faults.map((id) => (knowledge.faults.get(id)?.share.value ?? 0) / 100);
  const concludable = faults.map((id) => knowledge.faults.get(id)?.concludable ?? false);
  const contexts = [...knowledge.findings.values()].filter((f) => f.kind === 'context' && !f.many);
  const hypotheses: Hypothesis[] = faults.map((_, a) => ({ a, b: -1 }));
  const prior = [...share];
  for (let a = 0; a < faults.length; a += 1)
    for (let b = a + 1; b < faults.length; b += 1)
      if (concludable[a] && concludable[b]) {
        hypotheses.push({ a, b });
        prior.push(knowledge.costs.pairs * (share[a] ?? 0) * (share[b] ?? 0) * meet(contexts, a, b));
      }
  const total = prior.reduce((sum, p) => sum + p, 0);
  const cache = new Map<string, Float64Array[]>();
  return {
    faults,
    hypotheses,
    prior: Float64Array.from(prior, (p) => p / total),
    logPrior: Float64Array.from(prior, (p) => Math.log(p / total)),
    repeated: knowledge.costs.repeatedWitness,
    chances(step) {
      let rows = cache.get(step.id);
      if (!rows) cache.set(step.id, (rows = chancesOf(step, hypotheses)));
      return rows;
    },
  };
}

/** How far two faults can meet in one unit: a timer's and a control board's never do. At most 1. */
function meet(contexts: readonly Step[], a: number, b: number): number {
  return contexts.reduce((product, { table }) => {
    const one = table?.rows[a];
    const two = table?.rows[b];
    if (!table || !one || !two) return product;
    return (
      product *
      Math.min(
        1,
        table.base.reduce((sum, p0, v) => sum + (one[v]! * two[v]!) / p0, 0),
      )
    );
  }, 1);
}

function chancesOf(step: Step, hypotheses: readonly Hypothesis[]): Float64Array[] {
  const rows = step.values.map(() => new Float64Array(hypotheses.length));
  if (!step.table) return rows.map((r) => r.fill(1 / step.values.length));
  const { base, rows: byFault } = step.table;
  hypotheses.forEach(({ a, b }, h) => {
    const one = byFault[a] ?? base;
    const row = b < 0 ? one : together(step, one, byFault[b] ?? base, base);
    rows.forEach((r, v) => (r[h] = row[v] ?? 0));
  });
  return rows;
}

/**
 * The row of two faults at once. Symptoms are a noisy-OR around the value of a sound unit: each fault may bring its
 * own departure, and the sound value stays only if neither does. What the unit is (context) and what has no sound
 * value multiply as ratios to the base row.
 */
function together(
  step: Pick<Step, 'kind' | 'many' | 'healthy' | 'values'>,
  one: Float64Array,
  two: Float64Array,
  base: Float64Array,
): Float64Array {
  if (step.many)
    return base.map((p0, v) =>
      v === step.healthy
        ? stays(one[v] ?? 0, two[v] ?? 0, p0)
        : 1 - stays(1 - (one[v] ?? 0), 1 - (two[v] ?? 0), 1 - p0),
    );
  if (step.kind !== 'symptom' || step.healthy < 0)
    return normalised(base.map((p0, v) => ((one[v] ?? 0) * (two[v] ?? 0)) / p0));
  const sound = stays(one[step.healthy] ?? 0, two[step.healthy] ?? 0, base[step.healthy] ?? 1);
  const excess = base.map((p0, v) =>
    v === step.healthy ? 0 : Math.max((one[v] ?? 0) - p0, 0) + Math.max((two[v] ?? 0) - p0, 0) + p0 * 0.1,
  );
  const sum = excess.reduce((s, w) => s + w, 0);
  return excess.map((w, v) => (v === step.healthy ? sound : sum > 0 ? ((1 - sound) * w) / sum : 0));
}

/** P(no departure | both) by noisy-OR with the base rate as the leak; a fault that lowers departures leaves the other's. */
function stays(one: number, two: number, base: number): number {
  if (one >= base && two >= base) return Math.min(one, two);
  return (Math.min(one, base) * Math.min(two, base)) / base;
}

function normalised(row: Float64Array): Float64Array {
  const sum = row.reduce((s, p) => s + p, 0);
  return row.map((p) => p / sum);
}
