/**
 * Pieces of the trade's own model that are small enough for their optimum: five causes and their pairs, a few checks with
 * what they share and need, and decisions as they cost. Some checks lie behind one panel, some are only worth something
 * while the coil is cold, and a heater that is made to run spoils those; some take hours.
 */
import type { Move } from '../diagnosis/look-ahead.js';
import { modelOf } from '../diagnosis/model.js';
import { decisionsFor } from '../diagnosis/remedies.js';
import type { Knowledge, Step } from '../knowledge/facts.js';
import { placeOf } from './chance.js';
import type { Problem } from './problem.js';

const CAUSES = 5;
/** How many checks of each kind: behind the panel, cold and with the heater on, with a wait, any other. */
const BEHIND = 2;
const HEATED = 1;
const SLOW = 1;
const OTHERS = 2;

/** `random` decides which causes, the more frequent the likelier, and which checks. */
export function subModel(knowledge: Knowledge, random: () => number): Problem {
  const model = modelOf(knowledge);
  const causes = new Set<number>();
  const share = model.faults.map((id, i) => (knowledge.faults.get(id)?.concludable ? model.prior[i]! : 0));
  while (causes.size < CAUSES) causes.add(placeOf(share, random()));
  const unknown = model.faults.indexOf('something-else');
  const kept = model.hypotheses.flatMap(({ a, b }, h) =>
    a === unknown || (causes.has(a) && (b < 0 || causes.has(b))) ? [h] : [],
  );
  const total = kept.reduce((sum, h) => sum + model.prior[h]!, 0);
  const steps = someSteps(knowledge, random);
  const { costs } = knowledge;
  const moves = steps.map((step): Move => {
    const rows = model.chances(step);
    return {
      outcomes: step.values.map((_, v) => {
        const chance = Float64Array.from(kept, (h) => rows[v]![h]!);
        return { chance, factor: chance };
      }),
      minutes: step.minutes + costs.perQuestion + step.waitHours * costs.waitHour,
      opens: new Map(step.needs.open.map((name) => [name, knowledge.access.get(name)?.minutes ?? 0])),
      after: step.needs.after.flatMap((id) => steps.findIndex((s) => s.id === id)).filter((i) => i >= 0),
      shuts: isHeated(step) ? steps.flatMap((s, i) => (s.needs.cold && !isHeated(s) ? [i] : [])) : [],
    };
  });
  return {
    prior: Float64Array.from(kept, (h) => model.prior[h]! / total),
    moves,
    endings: decisionsFor(knowledge, model, 'technician').map(({ loss }) => ({
      loss: Float64Array.from(kept, (h) => loss[h]!),
    })),
  };
}

/** The heater is made to run in it. */
const isHeated = ({ needs }: Step): boolean => needs.cold && needs.skill === 'live';

function someSteps(knowledge: Knowledge, random: () => number): Step[] {
  const all = [...knowledge.steps.values()].filter((s) => s.planned && s.table && !s.many && s.kind !== 'context');
  const chosen = new Set<Step>();
  const take = (count: number, holds: (s: Step) => boolean): void => {
    const from = all.filter((s) => holds(s) && !chosen.has(s));
    for (let n = 0; n < count && from.length > 0; n += 1)
      chosen.add(from.splice(Math.floor(random() * from.length), 1)[0]!);
  };
  take(BEHIND, (s) => s.needs.open.includes('freezer-rear-panel'));
  take(HEATED, isHeated);
  take(SLOW, (s) => s.waitHours > 0);
  take(OTHERS, () => true);
  return [...chosen];
}
