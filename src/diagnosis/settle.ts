/**
 * What is done once no question is worth its minutes: a remedy, or a hand-over. A visit for a cause that is hardly
 * likelier than others is a hand-over, unless something likely can be done without one.
 */
import type { Knowledge, Remedy, Words } from '../knowledge/facts.js';
import type { Ranked } from './belief.js';
import type { Model } from './model.js';
import type { Decision } from './remedies.js';

export interface Settled {
  /** its remedy is null where the case is handed over */
  readonly decision: Decision;
  /** the likeliest cause that it mends, and how */
  readonly fault: string;
  readonly repair: Remedy | null;
}

/** A remedy of one's own that is at least this likely to be the right one is tried before a visit. */
const LIKELY = 0.5;

export function settle(
  knowledge: Knowledge,
  model: Model,
  ranked: readonly Ranked[],
  words: Words,
  decisions: readonly Decision[],
  decision: Decision,
): Settled {
  const isMended = (d: Decision, fault: string): boolean => d.mends[model.faults.indexOf(fault)] ?? false;
  const likely = (d: Decision): number =>
    ranked.reduce((sum, r) => sum + (isMended(d, r.fault) ? r.probability : 0), 0);
  const settled = (d: Decision): Settled => {
    const fault = ranked.find((r) => isMended(d, r.fault))?.fault ?? '';
    return { decision: d, fault, repair: knowledge.faults.get(fault)?.repair[words] ?? null };
  };
  const isVisit = (d: Decision): boolean => d.remedy === null || settled(d).repair?.action === 'technician-visit';
  if (!isVisit(decision) || likely(decision) >= knowledge.costs.sureEnough) return settled(decision);
  const here = decisions.filter((d) => !isVisit(d) && likely(d) >= LIKELY).sort((x, y) => likely(y) - likely(x))[0];
  return settled(here ?? decisions.find((d) => d.remedy === null) ?? decision);
}
