/** Policies on the whole model of the trade: the program's, one question ahead, and fixed checklists. */
import { lookAhead } from '../diagnosis/look-ahead.js';
import { situation } from '../diagnosis/plan.js';
import type { Mind } from './standing.js';
import type { Sight, TradePolicy } from './play.js';

export const program: TradePolicy = (sight) => sight.ours();

/** One question at most is thought ahead: asked where it and the decision after it cost less than deciding now. */
export const oneAhead: TradePolicy = ({ mind, belief, candidates, decisions }) => {
  const { b, moves, leaf, now } = situation(mind.knowledge, mind.model, belief, candidates(), decisions, {
    counting: false,
  });
  const { move } = lookAhead(b, moves, () => leaf, now.cost, { first: Infinity, second: 0 });
  const chosen = candidates()[move];
  return chosen ? { kind: 'ask', step: chosen.step } : { kind: 'decide', decision: decisions[now.decision]! };
};

/** Nothing is asked: somebody comes. */
export const callSomeone: TradePolicy = ({ decisions }) => ({
  kind: 'do',
  decision: decisions.find((d) => d.remedy === null)!,
});

/** Checks (findings, readings) and repairs in their order. */
export interface Checklist {
  readonly items: readonly string[];
  /** it stops where deciding costs at most so many minutes more than knowing; null: where the program would decide */
  readonly gap: number | null;
}

/** What is next on a list: a check that can be made here, a repair that was not made; nothing at its end. */
export function nextOn({ items }: Checklist, { candidates, decisions }: Sight): ReturnType<TradePolicy> | null {
  for (const item of items) {
    const check = candidates().find((c) => c.step.id === item && c.after.length === 0);
    if (check) return { kind: 'ask', step: check.step };
    const repair = decisions.find((d) => d.remedy === item);
    if (repair) return { kind: 'do', decision: repair };
  }
  return null;
}

export const byList =
  (list: Checklist): TradePolicy =>
  (sight) => {
    const stops = list.gap === null ? sight.decides() : sight.now().gap <= list.gap;
    return (stops ? null : nextOn(list, sight)) ?? { kind: 'decide', decision: sight.now().decision };
  };

/** All checks, the cheapest first, what must be opened counted in. */
export function cheapestFirst({ knowledge }: Mind): Checklist {
  const price = (id: string): number => {
    const { minutes, waitHours, needs } = knowledge.steps.get(id)!;
    const opening = needs.open.reduce((sum, name) => sum + (knowledge.access.get(name)?.minutes ?? 0), 0);
    return minutes + opening + waitHours * knowledge.costs.waitHour;
  };
  return { items: checks(knowledge).sort((x, y) => price(x) - price(y)), gap: null };
}

/** For each cause, the most frequent first, the check that tells most for or against it. */
export function mostProbableFirst({ knowledge, model }: Mind): Checklist {
  const telling = (fault: number, id: string): number => {
    const table = knowledge.steps.get(id)?.table;
    if (!table) return 0;
    // how far what this cause shows lies from what is seen elsewhere (half the sum of the differences, at most 1)
    return (table.rows[fault] ?? table.base).reduce((sum, p, v) => sum + Math.abs(p - table.base[v]!), 0) / 2;
  };
  const causes = [...model.faults.keys()].sort((x, y) => model.prior[y]! - model.prior[x]!);
  const all = checks(knowledge);
  const best = causes.map((f) => all.reduce((top, id) => (telling(f, id) > telling(f, top) ? id : top)));
  return { items: [...new Set(best)], gap: null };
}

export const checks = (knowledge: Mind['knowledge']): string[] =>
  [...knowledge.steps.values()].filter((s) => s.planned && s.table).map((s) => s.id);
