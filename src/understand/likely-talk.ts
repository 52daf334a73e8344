/**
 * What a message likely does in the talk, by likeness: an act, a question that the folder answers, or a request about
 * something else. It counts only where the phrases heard nothing.
 */
import type { Knowledge } from '../knowledge/facts.js';
import type { Likely } from './second-reader.js';
import { ACTS, type Act } from './talk.js';

export interface LikelyTalk {
  readonly act: Act | null;
  readonly topic: string | null;
  /** it is a request about something else, whatever its words seem to ask */
  readonly foreign: boolean;
  /** how sure it is that something else is spoken of, and that our trade or the talk is; 0 to 1 */
  readonly elsewhere: number;
  readonly ours: number;
}

/** Lessons that say nothing of use, but are of our trade. */
export const OF_TRADE = 'talk=trade';
const ELSEWHERE = 'off-topic';
const SURE = 0.5;
/** by so much it must be likelier than something else */
const MARGIN = 0.1;

export function likelyTalk(knowledge: Knowledge, likely: readonly Likely[]): LikelyTalk {
  const steers = likely.filter((l) => (l.finding === 'talk' || l.finding === 'topic') && !ASIDE.has(l.value));
  const best = steers[0];
  const elsewhere = likely.find((l) => l.finding === 'talk' && l.value === ELSEWHERE)?.p ?? 0;
  const ours = Math.max(
    0,
    ...likely
      .filter((l) => knowledge.findings.has(l.finding) || `${l.finding}=${l.value}` === OF_TRADE)
      .map((l) => l.p),
  );
  const sure = best && best.p >= SURE && best.p > elsewhere + MARGIN ? best : null;
  return {
    act: (sure?.finding === 'talk' ? ACTS.find((a) => a === sure.value && !WORDS_ONLY.has(a)) : null) ?? null,
    topic: sure?.finding === 'topic' && knowledge.topics.has(sure.value) ? sure.value : null,
    foreign: elsewhere >= FOREIGN && ours < HARDLY_OURS && elsewhere > (best?.p ?? 0),
    elsewhere,
    ours,
  };
}
/** what ends or empties a case is taken by its words only */
const WORDS_ONLY = new Set<Act>(['fixed', 'start-over', 'taken-back']);
const ASIDE = new Set([ELSEWHERE, OF_TRADE.slice('talk='.length)]);

/** Elsewhere where the words point there and nothing likely is ours, or where the likeness alone is strong. */
export function speaksOfElsewhere(byWords: boolean, { elsewhere, ours }: LikelyTalk): boolean {
  return byWords ? ours < OURS || elsewhere > ours : elsewhere >= ELSEWHERE_ALONE && ours < HARDLY_OURS;
}
const OURS = 0.35;
const HARDLY_OURS = 0.2;
const ELSEWHERE_ALONE = 0.45;
const FOREIGN = 0.6;
