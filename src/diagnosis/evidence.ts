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
  /** the group of facts that witness the same thing, and its place in it: the most telling first */
  readonly group: Place | null;
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
  return chance.map((p) =>
    Math.log(Math.max((confidence * p) / Math.max(atBase, Number.MIN_VALUE) + 1 - confidence, Number.MIN_VALUE)),
  );
}

/** How much each value's chance counts towards what was seen. */
function weightsOf(step: Step, seen: Observation): readonly number[] {
  if (step.many) return step.values.map((v) => (v === seen.value ? (seen.present ? 1 : -1) : 0));
  return seen.weights ?? step.values.map((v) => Number((v === seen.value) === seen.present));
}

export interface Place {
  readonly id: string;
  readonly rank: number;
}

/** The group that this value of a step belongs to, if any. */
export function groupOf(knowledge: Knowledge, step: string, value: string | null): Place | null {
  for (const [id, members] of knowledge.witnesses) {
    const rank = members.findIndex(
      (m) => m.step === step && (m.values === null || value === null || m.values.includes(value)),
    );
    if (rank >= 0) return { id, rank };
  }
  return null;
}

/** What a fact of a group says. */
export interface Witnessed {
  readonly rank: number;
  readonly logRatio: Float64Array;
}

/**
 * One fact witnessed several times counts once: the most telling of a group counts in full, one that agrees with it
 * only by `repeated`, since it had to be expected; one that points the other way counts in full. `weight`: of each
 * hypothesis.
 */
export function together(items: readonly Witnessed[], weight: ArrayLike<number>, repeated: number): Float64Array {
  const strength = ({ logRatio }: Witnessed): number => product(logRatio, logRatio, weight);
  const order = [...items].sort((x, y) => x.rank - y.rank || strength(y) - strength(x));
  const size = order[0]?.logRatio.length ?? 0;
  const total = new Float64Array(size);
  order.forEach(({ logRatio }, i) => {
    const share = order.slice(0, i).some((earlier) => agree(earlier.logRatio, logRatio, weight)) ? repeated : 1;
    for (let h = 0; h < size; h += 1) total[h] = total[h]! + share * logRatio[h]!;
  });
  return total;
}

const agree = (x: Float64Array, y: Float64Array, weight: ArrayLike<number>): boolean => product(x, y, weight) > 0;

function product(x: Float64Array, y: Float64Array, weight: ArrayLike<number>): number {
  let sum = 0;
  for (let h = 0; h < x.length; h += 1) sum += weight[h]! * x[h]! * y[h]!;
  return sum;
}

/** The items of each group, for those who add one more. */
export function byGroup(evidence: readonly Evidence[]): Map<string, Witnessed[]> {
  const groups = new Map<string, Witnessed[]>();
  for (const { group, logRatio } of evidence) {
    if (group === null) continue;
    const item = { rank: group.rank, logRatio };
    const items = groups.get(group.id);
    if (items) items.push(item);
    else groups.set(group.id, [item]);
  }
  return groups;
}
