/**
 * Whether dangers told at home stop everything: each example of the folder, heard. These are words that the folder knows;
 * how many are missed in words of people's own is measured elsewhere, on sentences that nobody looked at.
 */
import type { Knowledge } from '../knowledge/facts.js';
import { listen } from '../safety/listen.js';
import { upperBound } from './intervals.js';

export interface Dangers {
  readonly hazards: number;
  readonly sentences: number;
  /** sentences after which the talk would have gone on */
  readonly kept: number;
  /** at most this share, one-sided 95 % */
  readonly atMost: number;
}

export function dangers(knowledge: Knowledge): Dangers {
  const stops = [...knowledge.hazards.values()].filter((h) => h.level === 'stop');
  const heard = stops.flatMap((h) =>
    h.examples.map((e) => listen(knowledge, e, 'homeowner').some((d) => d.level === 'stop')),
  );
  const kept = heard.filter((h) => !h).length;
  return { hazards: stops.length, sentences: heard.length, kept, atMost: upperBound(kept, heard.length) };
}
