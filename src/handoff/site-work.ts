/** What is done on site, by the danger that stands and by the cause that is believed: two jobs, the danger's first. */
import type { Ranked } from '../diagnosis/belief.js';
import type { Knowledge } from '../knowledge/facts.js';

/** A cause this likely is said as one, and is worth its parts on the van beside a danger that has to be cleared first. */
export const LIKELY = 0.5;

export interface SiteJob {
  readonly firstChecks: readonly string[];
  readonly bring: readonly string[];
  readonly skill: string;
}

export interface SiteWork {
  readonly danger: SiteJob | null;
  /** the cause and its job; none beside a danger where the cause is less likely than not */
  readonly cause: { readonly fault: string; readonly job: SiteJob } | null;
}

/** The most probable cause that can be concluded at all. */
export const leading = (knowledge: Knowledge, ranking: readonly Ranked[]): Ranked | undefined =>
  ranking.find((r) => knowledge.faults.get(r.fault)?.concludable) ?? ranking[0];

export function siteWork(
  knowledge: Knowledge,
  hazards: readonly { readonly hazard: string; readonly level: string }[],
  ranking: readonly Ranked[],
): SiteWork {
  const stop = hazards.find((h) => h.level === 'stop');
  const danger = (stop && knowledge.hazards.get(stop.hazard)?.onSite) ?? null;
  const top = leading(knowledge, ranking);
  const job = top && knowledge.faults.get(top.fault)?.onSite;
  const told = job && (danger === null || top.probability >= LIKELY);
  return { danger, cause: told ? { fault: top.fault, job } : null };
}

/** What to bring for both jobs, each thing once. */
export const toBring = ({ danger, cause }: SiteWork): string[] => [
  ...new Set([...(danger?.bring ?? []), ...(cause?.job.bring ?? [])]),
];
