/** What was found and measured, as evidence: how much each item speaks for or against every hypothesis. */
import type { Knowledge, Step } from '../knowledge/facts.js';
import type { Model } from './model.js';

/**
 * One observation of a step. `weights`: how likely what was seen is under each value (1 for the value found, 0 for
 * the others; a reading's density under each state of the part). For a `many` finding one observation a value,
 * `present` or ruled out. `confidence` below 1 mixes in "not seen at all".
 */
export interface Observation {
  readonly step: string;
  readonly value: string | null;
  readonly present: boolean;
  readonly weights: readonly number[] | null;
  readonly confidence: number;
}

/** An observation with its log ratio to the base row, one number a hypothesis. */
export interface Evidence {
  readonly observation: Observation;
  readonly group: string | null;
  readonly logRatio: Float64Array;
}

export function evidenceOf(knowledge: Knowledge, model: Model, observations: readonly Observation[]): Evidence[] {
  return observations.flatMap((observation) => {
    const step = knowledge.steps.get(observation.step);
    if (!step?.table) return [];
    return [
      {
        observation,
        group: groupOf(knowledge, step.id, observation.value),
        logRatio: ratioToBase(model, step, observation),
      },
    ];
  });
}

/** P(what was seen | hypothesis) against the base row, as a logarithm; confidence mixes in "not seen at all". */
function ratioToBase(model: Model, step: Step, seen: Observation): Float64Array {
  const rows = model.chances(step);
  const base = step.table?.base ?? new Float64Array(step.values.length);
  const weights = weightsOf(step, seen);
  const size = model.hypotheses.length;
  const chance = new Float64Array(size);
  let atBase = step.many && !seen.present ? 1 : 0;
  if (step.many && !seen.present) chance.fill(1);
  weights.forEach((w, v) => {
    if (w === 0) return;
    const row = rows[v]!;
    atBase += w * base[v]!;
    for (let h = 0; h < size; h += 1) chance[h] = chance[h]! + w * row[h]!;
  });
  const { confidence } = seen;
  return chance.map((p) => Math.log(Math.max((confidence * p) / atBase + 1 - confidence, Number.MIN_VALUE)));
}

/** How much each value's chance counts towards what was seen. */
function weightsOf(step: Step, seen: Observation): readonly number[] {
  if (step.many) return step.values.map((v) => (v === seen.value ? (seen.present ? 1 : -1) : 0));
  return seen.weights ?? step.values.map((v) => Number((v === seen.value) === seen.present));
}

/** The group of facts that witness the same thing, if this value belongs to one. */
export function groupOf(knowledge: Knowledge, step: string, value: string | null): string | null {
  for (const [id, members] of knowledge.witnesses)
    for (const m of members)
      if (m.step === step && (m.values === null || value === null || m.values.includes(value))) return id;
  return null;
}

/**
 * One fact witnessed several times counts once: of the items of a group that point the same way the strongest counts
 * in full and the others only by `repeated`; items that point opposite ways all count. `weight`: of each hypothesis.
 */
export function together(items: readonly Float64Array[], weight: ArrayLike<number>, repeated: number): Float64Array {
  const size = items[0]?.length ?? 0;
  const dot = (x: Float64Array, y: Float64Array): number => {
    let sum = 0;
    for (let h = 0; h < size; h += 1) sum += (weight[h] ?? 0) * (x[h] ?? 0) * (y[h] ?? 0);
    return sum;
  };
  const order = items.map((item) => ({ item, strength: dot(item, item) })).sort((x, y) => y.strength - x.strength);
  const total = new Float64Array(size);
  order.forEach(({ item }, i) => {
    const share = order.slice(0, i).some((stronger) => dot(stronger.item, item) > 0) ? repeated : 1;
    for (let h = 0; h < size; h += 1) total[h] = (total[h] ?? 0) + share * (item[h] ?? 0);
  });
  return total;
}

/** The items of each group, for those who add one more. */
export function byGroup(evidence: readonly Evidence[]): Map<string, Float64Array[]> {
  const groups = new Map<string, Float64Array[]>();
  for (const { group, logRatio } of evidence) {
    if (group === null) continue;
    const items = groups.get(group);
    if (items) items.push(logRatio);
    else groups.set(group, [logRatio]);
  }
  return groups;
}
