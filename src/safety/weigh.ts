/**
 * What is done with what was heard: an alarm, one question before it, or nothing. Words that name a danger plainly are
 * always an alarm; the second opinion decides only whether other words, or none, are asked about first.
 */
import type { Knowledge, Role } from '../knowledge/facts.js';
import { read } from '../message/phrases.js';
import { listenIn, type Heard } from './listen.js';
import { opinionOn } from './opinion.js';

export interface Weighed {
  readonly alarms: readonly Heard[];
  /** to be asked about before anything else: hazards that words name which may mean something else, or the past */
  readonly named: readonly string[];
  /** the same, that only the second opinion thinks of, the likeliest first */
  readonly thought: readonly string[];
}

/** What the case knows of dangers. */
export interface Known {
  /** raised before, and not cleared */
  readonly standing: readonly string[];
  /** asked about before: not once more without words that name it */
  readonly doubted: readonly string[];
  /** asked about just now: words that name it are an answer, and an alarm */
  readonly asking: readonly string[];
}

export function weigh(knowledge: Knowledge, text: string, role: Role, { standing, doubted, asking }: Known): Weighed {
  const said = read(text);
  const heard = listenIn(knowledge, said, role, standing);
  const { ask, doubt } = knowledge.hearing;
  const opinion = opinionOn(knowledge, said);
  const isDoubted = (h: Heard): boolean =>
    ![...standing, ...asking].includes(h.hazard) &&
    (h.past || (!h.plain && !h.asked && opinion.sureOf(h.hazard) < doubt[h.level].value));
  const alarms = heard.filter((h) => !isDoubted(h));
  // a stop comes before every question
  if (alarms.some((h) => h.level === 'stop')) return { alarms, named: [], thought: [] };
  const named = heard.filter(isDoubted).map((h) => h.hazard);
  const known = [...standing, ...doubted, ...alarms.map((h) => h.hazard)];
  const [likeliest = ''] = opinion.hazards;
  const isNews = opinion.sure >= ask.value && !alarms.some((h) => h.hazard === likeliest);
  const thought = isNews ? opinion.hazards.filter((h) => !known.includes(h)) : [];
  return { alarms, named, thought: thought.filter((h) => !named.includes(h)) };
}
