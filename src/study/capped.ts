/** What it costs that the look-ahead looks at the likeliest causes and the most promising steps only. */
import { stepsAhead, lookAhead } from '../diagnosis/look-ahead.js';
import { situation } from '../diagnosis/plan.js';
import type { Knowledge } from '../knowledge/facts.js';
import { drawCaller } from './caller.js';
import { act, sightOf, type Sight } from './play.js';
import { atFirst, mindOf, worldOf } from './standing.js';

const ALL = { first: Infinity, second: Infinity } as const;
/** A belief is looked at after so many questions at most. */
const DEEPEST = 6;

/** Expected cost of the step the program takes, by that of the best one, both two steps ahead over everything. */
export function cappedRatio(knowledge: Knowledge, random: () => number): number {
  const words = random() < 0.5 ? 'technician' : 'homeowner';
  const mind = mindOf(knowledge, words);
  const world = worldOf(knowledge, words);
  const caller = drawCaller(knowledge, words, random);
  let standing = atFirst(mind, caller);
  let sight = sightOf(mind, standing);
  for (let left = Math.floor(random() * (DEEPEST + 1)); left > 0; left -= 1) {
    const chosen = sight.ours();
    if (chosen.kind !== 'ask') break;
    standing = act(world, caller, standing, sight, chosen);
    sight = sightOf(mind, standing);
  }
  return ratioOf(sight);
}

function ratioOf({ mind: { knowledge, model }, belief, candidates, decisions, ours }: Sight): number {
  const { b, moves, leaf, now } = situation(knowledge, model, belief, candidates(), decisions, {
    hypotheses: Infinity,
  });
  const best = lookAhead(b, moves, () => leaf, now.cost, ALL).cost;
  const chosen = ours();
  if (chosen.kind === 'decide') return now.cost / best;
  const move = candidates().findIndex((c) => c.step === chosen.step);
  return stepsAhead(b, moves, () => leaf, ALL).costOf(move) / best;
}
