/**
 * The best fixed checklist that a search finds: one grown item by item, what the program asks most, the printed one and
 * the most probable first are where it starts; the best of them is improved by leaving out and moving. All by what a list
 * costs on callers drawn for the search alone; it is measured on others.
 */
import type { Caller } from './caller.js';
import { act, play, sightOf, type Sight } from './play.js';
import { atFirst, type Mind, type Standing, type World } from './standing.js';
import { byList, checks, mostProbableFirst, nextOn, program, type Checklist } from './trade-policies.js';

interface Run {
  readonly caller: Caller;
  readonly standing: Standing;
  readonly sight: Sight;
  /** minutes so far and those expected when nothing more is asked: steadier than what this one caller would pay */
  readonly cost: number;
}

const GAPS = [10, 20, 40, 80] as const;
const START = 20;
/** First looked at on so many callers; the most promising then on all. */
const FEW = 40;
const PROMISING = 8;
/** An item that saves less than this share is left out. */
const LEAST = 0.001;
const LONGEST = 24;

export function bestChecklist(
  mind: Mind,
  world: World,
  callers: readonly Caller[],
  looks: number,
  seen: (share: number) => void = () => undefined,
): Checklist {
  const cost = (list: Checklist, most = Infinity): number => {
    let sum = 0;
    for (const caller of callers) {
      sum += play(mind, world, caller, byList(list)).minutes;
      if (sum > most) return Infinity;
    }
    return sum;
  };
  const starts = [
    grown(mind, world, callers, seen),
    habit(mind, world, callers.slice(0, FEW)),
    mind.knowledge.study.checklist,
    mostProbableFirst(mind).items,
  ];
  let best: Checklist = { items: [], gap: START };
  let least = Infinity;
  const better = (list: Checklist): boolean => {
    const sum = cost(list, least);
    if (sum >= least - 1e-6) return false;
    [best, least] = [list, sum];
    return true;
  };
  for (const items of starts) for (const gap of GAPS) better({ items, gap });
  let left = looks;
  let tried = -1;
  // round after round over all neighbours, until a whole round brings nothing or enough were looked at
  while (left > 0 && tried !== 0) {
    tried = 0;
    for (const items of neighbours(best.items)) {
      if (left <= 0) break;
      left -= 1;
      seen(0.5 + 0.5 * (1 - left / looks));
      if (better({ ...best, items })) {
        tried += 1;
        break;
      }
    }
  }
  const byOurRule = { ...best, gap: null };
  return better(byOurRule) ? byOurRule : best;
}

function* neighbours(items: readonly string[]): Generator<string[]> {
  for (let i = items.length - 1; i >= 0; i -= 1) yield items.filter((_, j) => j !== i);
  for (let reach = 1; reach < items.length; reach += 1)
    for (let i = 0; i + reach < items.length; i += 1) {
      const moved = [...items];
      moved.splice(i, 0, ...moved.splice(i + reach, 1));
      yield moved;
    }
}

/** What the program asks these callers, in the order in which it asks on average; what it seldom asks is left out. */
function habit(mind: Mind, world: World, callers: readonly Caller[]): string[] {
  const places = new Map<string, number[]>();
  for (const caller of callers) {
    let place = 0;
    play(mind, world, caller, program, (_, chosen) => {
      if (chosen.kind !== 'ask') return;
      place += 1;
      places.set(chosen.step.id, [...(places.get(chosen.step.id) ?? []), place]);
    });
  }
  const mean = (of: readonly number[]): number => of.reduce((s, x) => s + x, 0) / of.length;
  return [...places]
    .filter(([, of]) => of.length >= OFTEN * callers.length)
    .sort(([, x], [, y]) => mean(x) - mean(y))
    .map(([id]) => id);
}
const OFTEN = 0.1;

function grown(mind: Mind, world: World, callers: readonly Caller[], seen: (share: number) => void): string[] {
  const run = (caller: Caller, standing: Standing): Run => {
    const sight = sightOf(mind, standing);
    const cost = standing.minutes + (standing.end ? 0 : sight.now().cost);
    return { caller, standing, sight, cost };
  };
  // what the person can do alone: that somebody comes is no item of a list but a decision
  const repairs = [...world.decisions.values()].flatMap((d) => (d.remedy && d.comes === null ? [d.remedy] : []));
  const all = [...checks(mind.knowledge), ...repairs];
  let open = callers.map((caller) => run(caller, atFirst(mind, caller)));
  const items: string[] = [];
  const after = (r: Run, item: string): Run => {
    const next = nextOn({ items: [item], gap: null }, r.sight);
    return next ? run(r.caller, act(world, r.caller, r.standing, r.sight, next)) : r;
  };
  const saved = (runs: readonly Run[], item: string): number =>
    runs.reduce((sum, r) => sum + r.cost - after(r, item).cost, 0);
  while (items.length < LONGEST && open.length > 0) {
    const left = all.filter((item) => !items.includes(item));
    const few = open.slice(0, FEW);
    const promising = left
      .map((item) => ({ item, saves: saved(few, item) }))
      .sort((x, y) => y.saves - x.saves)
      .slice(0, PROMISING)
      .map(({ item }) => ({ item, saves: saved(open, item) }))
      .sort((x, y) => y.saves - x.saves);
    const [top] = promising;
    const total = open.reduce((sum, r) => sum + r.cost, 0);
    if (!top || top.saves < LEAST * total) break;
    items.push(top.item);
    open = open.map((r) => after(r, top.item)).filter((r) => r.standing.end === null && r.sight.now().gap > START);
    seen((0.5 * items.length) / LONGEST);
  }
  return items;
}
