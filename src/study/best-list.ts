/**
 * The best fixed checklist that a search finds: grown item by item, then improved by leaving out, moving and exchanging,
 * always by what it costs on callers drawn for the search alone. It is measured on others.
 */
import type { Caller } from './caller.js';
import { act, play, sightOf, type Sight } from './play.js';
import { atFirst, type Mind, type Standing, type World } from './standing.js';
import { byList, checks, nextOn, type Checklist } from './trade-policies.js';

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
  let best: Checklist = { items: grown(mind, world, callers, seen), gap: START };
  let least = cost(best);
  const better = (list: Checklist): boolean => {
    const sum = cost(list, least);
    if (sum >= least - 1e-6) return false;
    [best, least] = [list, sum];
    return true;
  };
  for (const gap of GAPS) better({ ...best, gap });
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
