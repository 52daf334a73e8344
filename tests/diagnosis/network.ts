// A small Bayesian network of yes/no variables, written out as hypotheses with likelihoods, so that the very functions
// that serve a case can be asked what others have published about it.

import bayesjs from 'bayesjs';
import { beliefOf, ranking, type Belief } from '../../src/diagnosis/belief.js';
import { evidenceOf } from '../../src/diagnosis/evidence.js';
import { modelOf, type Model } from '../../src/diagnosis/model.js';
import type { Knowledge } from '../../src/knowledge/facts.js';
import { invented, type SmallStep } from './invented.js';

/** `yes`: P(yes) for each row of its parents' values, the first parent the slowest, yes before no. */
interface Variable {
  readonly id: string;
  readonly parents: readonly string[];
  readonly yes: readonly number[];
}
export type Network = readonly Variable[];
export type Seen = Readonly<Record<string, boolean>>;

const rowOf = (variable: Variable, state: Seen): number =>
  variable.parents.reduce((row, parent) => row * 2 + (state[parent] === true ? 0 : 1), 0);
const chance = (variable: Variable, state: Seen): number => variable.yes[rowOf(variable, state)] ?? NaN;

/** All values of these variables together. */
function statesOf(ids: readonly string[]): Seen[] {
  return ids.reduce<Seen[]>(
    (states, id) =>
      states.flatMap((s) => [
        { ...s, [id]: true },
        { ...s, [id]: false },
      ]),
    [{}],
  );
}

/**
 * Each joint state of the variables that have children is a hypothesis whose share is its probability. A variable
 * without children is a step with its own likelihoods; one with children is a step that each state fixes.
 */
function written(network: Network): { knowledge: Knowledge; states: readonly Seen[] } {
  const inner = network.filter((v) => network.some((other) => other.parents.includes(v.id)));
  const states = statesOf(inner.map((v) => v.id));
  const shares = states.map((s) => inner.reduce((p, v) => p * (s[v.id] === true ? chance(v, s) : 1 - chance(v, s)), 1));
  const steps = network.map((v): SmallStep => {
    const yes = states.map((s) => (inner.includes(v) ? Number(s[v.id]) : chance(v, s)));
    return { id: v.id, values: ['yes', 'no'], base: [0.5, 0.5], rows: yes.map((p) => [p, 1 - p]) };
  });
  const faults = states.map((_, i) => ({
    id: `state-${String(i).padStart(4, '0')}`,
    share: (shares[i] ?? 0) * 100,
    alone: true,
  }));
  return { knowledge: invented({ faults, steps }), states };
}

/** P(yes | seen) of any variable, by `evidenceOf`, `beliefOf` and `ranking`. */
export function asked(network: Network): (id: string, seen?: Seen) => number {
  const { knowledge, states } = written(network);
  const model = modelOf(knowledge);
  return (id, seen = {}) => {
    const belief = believed(knowledge, model, seen);
    const byState = new Map(ranking(model, belief).map((r) => [r.fault, r.probability]));
    const step = knowledge.steps.get(id);
    const yes = step ? model.chances(step)[0] : undefined;
    return states.reduce((sum, _, i) => sum + (byState.get(model.faults[i] ?? '') ?? NaN) * (yes?.[i] ?? NaN), 0);
  };
}

function believed(knowledge: Knowledge, model: Model, seen: Seen): Belief {
  const observations = Object.entries(seen).map(([step, yes]) => ({
    step,
    value: yes ? 'yes' : 'no',
    present: true,
    weights: null,
    confidence: 1,
  }));
  return beliefOf(model, evidenceOf(knowledge, model, observations));
}

/** The same question to a library that reckons in another way: variable elimination. */
export function byLibrary(network: Network, id: string, seen: Seen = {}): number {
  const named = (s: Seen): Record<string, string> =>
    Object.fromEntries(Object.entries(s).map(([k, v]) => [k, v ? 'yes' : 'no']));
  const nodes = Object.fromEntries(
    network.map((v) => {
      const parents = [...v.parents];
      const chances = (yes: number): { yes: number; no: number } => ({ yes, no: 1 - yes });
      const cpt = parents.length
        ? // oxlint-disable-next-line unicorn/no-thenable -- the library names it so
          statesOf(parents).map((s) => ({ when: named(s), then: chances(chance(v, s)) }))
        : chances(v.yes[0] ?? NaN);
      return [v.id, { id: v.id, states: ['yes', 'no'], parents, cpt }];
    }),
  );
  return bayesjs.inferences.variableElimination.infer(nodes, { [id]: 'yes' }, named(seen));
}
