/**
 * The study in pieces that do not hang together, so that they can be done side by side; each draws from numbers of its
 * own, so that the figures are the same however the pieces are spread.
 */
import type { Knowledge, Words } from '../knowledge/facts.js';
import { bestChecklist } from './best-list.js';
import { cappedRatio } from './capped.js';
import { drawCaller } from './caller.js';
import { drawsOf } from './chance.js';
import { dangers } from './dangers.js';
import { randomModel, SIZES } from './random-models.js';
import { policyRatios } from './ratios.js';
import { cheapestFirst, mostProbableFirst, myopic, ours, withoutQuestions } from './small-policies.js';
import { mindOf, worldOf } from './standing.js';
import { subModel } from './sub-models.js';
import { tales, type Group } from './tales.js';
import type { Checklist } from './trade-policies.js';

interface Stretch {
  readonly from: number;
  readonly to: number;
}

export type Job =
  | ({ readonly kind: 'random'; readonly size: number } & Stretch)
  | ({ readonly kind: 'sub-models' } & Stretch)
  | ({ readonly kind: 'look-ahead' } & Stretch)
  | { readonly kind: 'dangers' }
  | { readonly kind: 'list'; readonly words: Words; readonly callers: number; readonly looks: number }
  | ({ readonly kind: 'callers'; readonly group: Group; readonly list: Checklist } & Stretch);

export type Result<J extends Job> = ReturnType<(typeof DO)[J['kind']]>;
type Doing = {
  [K in Job['kind']]: (knowledge: Knowledge, seed: number, job: Extract<Job, { kind: K }>, seen: Seen) => unknown;
};
/** How much of the job is done since the last time, as a share of it. */
type Seen = (share: number) => void;

const POLICIES = {
  ours: ours(),
  myopic,
  'no-questions': withoutQuestions,
  'most-probable': mostProbableFirst,
  cheapest: cheapestFirst,
};
const RANDOM = 11;
const TRAINING = 12;
const SUB_MODELS = 13;
const BELIEFS = 14;
/** On the trade's pieces there are no repairs to try: only questions, and decisions. */
const DECIDING = { ours: ours(), myopic };

/** What comes of each number of the stretch. */
function each<T>({ from, to }: Stretch, seen: Seen, one: (i: number) => T): T[] {
  return Array.from({ length: to - from }, (_, n) => {
    const found = one(from + n);
    seen(1 / (to - from));
    return found;
  });
}

const DO = {
  /** cost by the optimum's, by policy, of each problem */
  random: (_, seed, { size, from, to }, seen) =>
    each({ from, to }, seen, (i) => policyRatios(randomModel(SIZES[size]!, drawsOf(seed, RANDOM, size, i)), POLICIES)),
  /** the same for pieces of the trade's model */
  'sub-models': (knowledge, seed, stretch, seen) =>
    each(stretch, seen, (i) => policyRatios(subModel(knowledge, drawsOf(seed, SUB_MODELS, i)), DECIDING)),
  /** cost of the step taken by that of the best of all, two steps ahead */
  'look-ahead': (knowledge, seed, stretch, seen) =>
    each(stretch, seen, (i) => ({ capped: cappedRatio(knowledge, drawsOf(seed, BELIEFS, i)) })),
  dangers: (knowledge, _, __, seen) => {
    const found = dangers(knowledge);
    seen(1);
    return found;
  },
  list: (knowledge, seed, { words, callers, looks }, seen): Checklist => {
    const world = worldOf(knowledge, words);
    const drawn = Array.from({ length: callers }, (_, i) =>
      drawCaller(knowledge, words, drawsOf(seed, TRAINING, Number(words === 'homeowner'), i)),
    );
    let before = 0;
    return bestChecklist(mindOf(knowledge, words), world, drawn, looks, (share) => {
      seen(share - before);
      before = share;
    });
  },
  callers: (knowledge, seed, { group, list, from, to }, seen) =>
    tales(knowledge, seed, group, list, from, to, () => seen(1 / (to - from))),
} satisfies Doing;

export function doJob<J extends Job>(knowledge: Knowledge, seed: number, job: J, seen: Seen): Result<J> {
  const run = DO[job.kind] as (knowledge: Knowledge, seed: number, job: Job, seen: Seen) => Result<J>;
  return run(knowledge, seed, job, seen);
}
