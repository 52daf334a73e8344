/**
 * What a decision leads to: it mends and the case is over, somebody comes and it is over, or it was the wrong one, at the
 * price of the folder, and the talk goes on. In minutes of effort, as the planner counts them.
 */
import { FOUND_BESIDE, type Decision } from '../diagnosis/remedies.js';
import type { Caller } from './caller.js';
import type { Standing, World } from './standing.js';

export function carryOut(world: World, caller: Caller, before: Standing, remedy: string | null): Standing {
  const decision = world.decisions.get(remedy)!;
  const right = before.left.some((i) => decision.mends[i]);
  const standing = { ...before, first: before.first ?? { remedy, right, alone: decision.comes === null } };
  if (remedy === null)
    return { ...standing, minutes: standing.minutes + decision.own, visits: standing.visits + 1, end: 'handed-over' };
  return decision.comes === 'appliance-technician'
    ? visited(world, caller, standing, decision)
    : repaired(world, caller, standing, remedy, decision);
}

/** A technician comes to a home and mends what there is; for another part, or another trade, somebody comes again. */
function visited(world: World, caller: Caller, standing: Standing, { mends, loss }: Decision): Standing {
  const { left } = standing;
  const hypothesis = left.length > 1 ? caller.cause : left[0]!;
  const again = left.some((i) => !mends[i] && world.comes(i) !== null);
  return {
    ...standing,
    minutes: standing.minutes + loss[hypothesis]!,
    visits: standing.visits + (again ? 2 : 1),
    wrongParts: standing.wrongParts + Number(again),
    end: 'visit',
  };
}

function repaired(world: World, caller: Caller, standing: Standing, remedy: string, decision: Decision): Standing {
  const { own, wrong, mends, comes } = decision;
  const { words } = world;
  const works = caller.works(remedy);
  const left = standing.left.filter((i) => !works || !mends[i]);
  const made = {
    ...standing,
    left,
    minutes: standing.minutes + own,
    visits: standing.visits + Number(comes !== null),
  };
  if (left.length === 0) return { ...made, end: 'mended' };
  const better = left.length < standing.left.length;
  const missed = !standing.missed && comes !== 'certified-technician' && left.some((i) => world.licensed(i));
  return {
    ...made,
    minutes: made.minutes + wrong * (better ? FOUND_BESIDE : 1) + (missed ? world.of.costs.licensedMissed : 0),
    missed: standing.missed || missed,
    wrongParts: made.wrongParts + Number(!better && world.hasParts(remedy)),
    // a technician comes a second time
    visits: made.visits + Number(words === 'technician' && !better),
    state: { ...made.state, failed: [...made.state.failed, { remedy, words, better }] },
  };
}
