/** Callers met by every policy, one after another: the same callers for all, so that only the policy differs. */
import { brier, logScore } from '../diagnosis/scores.js';
import type { Told } from '../diagnosis/calibration.js';
import type { Knowledge, Words } from '../knowledge/facts.js';
import { drawCaller, type Caller } from './caller.js';
import { drawsOf } from './chance.js';
import { otherModel } from './other-model.js';
import { play, type Sight, type TradePolicy } from './play.js';
import { mindOf, worldOf, type Mind, type Standing, type World } from './standing.js';
import {
  byList,
  callSomeone,
  cheapestFirst,
  mostProbableFirst,
  oneAhead,
  program,
  type Checklist,
} from './trade-policies.js';

/** How a caller fared under a policy. */
export interface Tale {
  readonly minutes: number;
  readonly questions: number;
  readonly visits: number;
  readonly wrongParts: number;
  readonly right: boolean;
  readonly handedOver: boolean;
  /** visits to a home where the person could have mended it alone */
  readonly needless: number;
  /** a fault of the sealed circuit: whether nobody ever came, and whether the person was first told to do something alone */
  readonly sealed: { readonly kept: boolean; readonly triedAlone: boolean } | null;
}

/** What was told when the program first decided: scores of the ranking, and whether its first came true. */
interface Telling {
  readonly brier: number;
  readonly log: number;
  readonly first: Told;
}

export interface Tales {
  readonly by: Readonly<Record<string, readonly Tale[]>>;
  readonly told: readonly Telling[];
}

export interface Group {
  readonly words: Words;
  /** drawn from models that are not ours */
  readonly off: boolean;
}

/** So many models that are not ours; callers take them in turn. */
const OTHERS = 20;

/** Callers `from` up to but without `to`; who comes before or after does not change them. */
export function tales(
  knowledge: Knowledge,
  seed: number,
  { words, off }: Group,
  list: Checklist,
  from: number,
  to: number,
  seen: () => void = () => undefined,
): Tales {
  const mind = mindOf(knowledge, words);
  const worlds = worldsOf(knowledge, seed, { words, off });
  const by = new Map<string, Tale[]>();
  const told: Telling[] = [];
  for (let i = from; i < to; i += 1) {
    const world = worlds(i);
    const caller = drawCaller(world.of, words, drawsOf(seed, CALLERS, Number(words === 'homeowner'), Number(off), i));
    for (const [name, policy] of Object.entries(policies(mind, world, caller, list))) {
      let first: Sight | null = null;
      const end = play(mind, world, caller, policy, (sight, chosen) => {
        if (chosen.kind !== 'ask') first ??= sight;
      });
      by.set(name, [...(by.get(name) ?? []), taleOf(world, mind, caller, end)]);
      if (policy === program && first) told.push(telling(mind, caller, first));
    }
    seen();
  }
  return { by: Object.fromEntries(by), told };
}
const CALLERS = 1;
const MODELS = 2;

function worldsOf(knowledge: Knowledge, seed: number, { words, off }: Group): (caller: number) => World {
  if (!off) {
    const world = worldOf(knowledge, words);
    return () => world;
  }
  const made = new Map<number, World>();
  return (caller) => {
    const n = caller % OTHERS;
    const world =
      made.get(n) ?? worldOf(otherModel(knowledge, knowledge.study.noise.value, drawsOf(seed, MODELS, n)), words);
    made.set(n, world);
    return world;
  };
}

function policies(mind: Mind, world: World, caller: Caller, list: Checklist): Record<string, TradePolicy> {
  return {
    ours: program,
    'one-ahead': oneAhead,
    'best-list': byList(list),
    'printed-list': byList({ items: mind.knowledge.study.checklist, gap: null }),
    'most-probable': byList(mostProbableFirst(mind)),
    cheapest: byList(cheapestFirst(mind)),
    'call-someone': callSomeone,
    // no policy: what is left to pay where the cause is told at once
    known: ({ decisions }) => {
      const { a, b } = mind.model.hypotheses[caller.cause]!;
      const rightly = decisions.find((d) => d.mends[a]) ?? decisions.find((d) => d.mends[b]);
      return { kind: 'do', decision: rightly ?? decisions.find((d) => d.remedy === null)! };
    },
  };
}

function taleOf(world: World, mind: Mind, caller: Caller, end: Standing): Tale {
  const { a, b } = mind.model.hypotheses[caller.cause]!;
  const causes = b < 0 ? [a] : [a, b];
  const alone = causes.every((i) => world.comes(i) === null);
  const came = end.visits > 0;
  return {
    minutes: end.minutes,
    questions: end.state.questions,
    visits: end.visits,
    wrongParts: end.wrongParts,
    right: end.first?.right ?? false,
    handedOver: end.end === 'handed-over',
    needless: alone ? end.visits : 0,
    sealed: causes.some((i) => world.licensed(i)) ? { kept: !came, triedAlone: end.first?.alone ?? false } : null,
  };
}

/** Where two causes are there, the mean of the scores for each: the chance of a pair is shared between its two. */
function telling({ model }: Mind, { cause }: Caller, sight: Sight): Telling {
  const ranked = sight.ranked();
  const { a, b } = model.hypotheses[cause]!;
  const causes = (b < 0 ? [a] : [a, b]).map((i) => model.faults[i] ?? '');
  const mean = (of: (cause: string) => number): number => causes.reduce((sum, c) => sum + of(c), 0) / causes.length;
  const top = model.faults.indexOf(ranked[0]?.fault ?? '');
  const chance = model.hypotheses.reduce((sum, h, i) => sum + (h.a === top || h.b === top ? sight.belief.p[i]! : 0), 0);
  return {
    brier: mean((c) => brier(ranked, c)),
    log: mean((c) => logScore(ranked, c)),
    first: { chance: Math.min(1, chance), came: a === top || b === top },
  };
}
