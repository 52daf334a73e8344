/** A made-up caller: what is wrong, how each question and test would turn out, and which repairs work at the first go. */
import { modelOf } from '../diagnosis/model.js';
import type { Knowledge, Step, Words } from '../knowledge/facts.js';
import { placeOf } from './chance.js';

export interface Caller {
  /** a hypothesis of the model, by its index */
  readonly cause: number;
  /** what a step shows here; every step has an answer */
  readonly shows: (step: string) => string;
  /** whether the person can tell */
  readonly tells: (step: string) => boolean;
  /** whether a repair of the right thing works at the first go */
  readonly works: (remedy: string) => boolean;
}

/**
 * `world`: the model that the caller is drawn from. Answers are independent given the cause, but for facts that are one
 * witness: these come from one draw, as far as the folder says that they repeat each other.
 */
export function drawCaller(world: Knowledge, words: Words, random: () => number): Caller {
  const model = modelOf(world);
  const { study, costs } = world;
  const cause = placeOf(model.prior, random());
  const groups = [...world.witnesses.values()].map((members) => ({ members, share: random() }));
  const shown = new Map<string, string>();
  const told = new Set<string>();
  for (const step of world.steps.values()) {
    const own = random();
    const repeats = random() >= costs.repeatedWitness;
    const sure = random();
    const group = groups.find(({ members }) => members.some((m) => m.step === step.id));
    const witness = group?.members.find((m) => m.step === step.id);
    const order = witness ? witnessFirst(step, witness.values) : step.values;
    const chance = chancesOf(world, step, words, cause);
    const share = group && repeats ? group.share : own;
    shown.set(step.id, order[placeOf(order.map(chance), share)] ?? '');
    const notSure = (words === 'homeowner' ? study.hardAtHome[step.id] : undefined) ?? study.notSure[words];
    if (sure >= notSure.value) told.add(step.id);
  }
  const remedies = new Set([...world.faults.values()].map((f) => f.repair[words].remedy));
  const works = new Set([...remedies].filter(() => random() < costs.repairWorks));
  return {
    cause,
    shows: (step) => shown.get(step) ?? '',
    tells: (step) => told.has(step),
    works: (remedy) => works.has(remedy),
  };
}

/** What witnesses the group's fact comes first, so that one draw shows it in all of its members or in none. */
function witnessFirst({ values, healthy }: Step, witness: readonly string[] | null): string[] {
  const is = (value: string, v: number): boolean => (witness ? witness.includes(value) : v !== healthy);
  return [...values.filter(is), ...values.filter((value, v) => !is(value, v))];
}

function chancesOf(world: Knowledge, step: Step, words: Words, cause: number): (value: string) => number {
  const shares = world.study.answers[step.id]?.[words];
  if (shares) return (value) => shares[value] ?? 0;
  const rows = modelOf(world).chances(step);
  return (value) => rows[step.values.indexOf(value)]?.[cause] ?? 0;
}
