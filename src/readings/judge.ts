// Readings judges one measured value against what it should be: the expected range, good, bad or inconclusive, why, and
// how likely it is under each state of the part. It never decides what is wrong with the unit, never asks, and takes
// every number and every word from the knowledge folder.

import { readingId, type CaseState, type Measured } from '../case/state.js';
import type { Knowledge, Reading, Words } from '../knowledge/facts.js';
import type { Against, Expected, ReadingOut, Verdict } from '../message/outgoing.js';
import { contradicts, effort, type Alone } from './contradiction.js';
import { judgeOf } from './judges.js';
import type { Asks, Opinion } from './opinion.js';
import { valueText, why, type Reader } from './words.js';

export interface Judged {
  readonly measured: Measured;
  /** `part.quantity` */
  readonly step: string;
  readonly verdict: Verdict;
  /** what a good part may show, SI: its band widened by the uncertainty of meter and thermometer (k = 2) */
  readonly expected: Expected | null;
  readonly against: Against;
  /** key of the reading's `why` in the knowledge folder */
  readonly outcome: string;
  /** one sentence in the person's words and units */
  readonly why: string;
  /** how likely the value is under each state of the reading, relative, the largest 1; null where it tells nothing */
  readonly weights: readonly number[] | null;
  readonly asks: Asks;
}

/**
 * Judges one reading.
 * @param others the other readings of the case, in order; they say what the case knows, and what contradicts it
 * @throws Error when the part or quantity is not in the knowledge folder: `accept` refuses such a reading
 */
export function judge(
  knowledge: Knowledge,
  state: CaseState,
  measured: Measured,
  others: readonly Measured[],
  words: Words,
): Judged {
  const place = others.findIndex((other) => other.at > measured.at);
  const all = others.toSpliced(place < 0 ? others.length : place, 0, measured);
  const opinions = all.map((each) => alone(knowledge, state, each, all));
  const index = all.indexOf(measured);
  return judged(knowledge, state, opinions, index, words);
}

/** Judges every reading of a case, in order; one that the knowledge folder no longer has is left out. */
export function judgeAll(knowledge: Knowledge, state: CaseState, words: Words): Judged[] {
  const known = state.readings.filter((measured) => knowledge.readings.has(readingId(measured)));
  const opinions = known.map((each) => alone(knowledge, state, each, known));
  return opinions.map((_, index) => judged(knowledge, state, opinions, index, words));
}

function alone(knowledge: Knowledge, state: CaseState, measured: Measured, all: readonly Measured[]): Alone {
  const reading = knowledge.readings.get(readingId(measured));
  if (!reading) throw new Error(`the knowledge folder has no reading ${readingId(measured)}`);
  const others = all.filter((other) => other !== measured);
  const opinion = judgeOf(reading).judges({ knowledge, state, reading, given: measured, others }, measured.value);
  return { measured, reading, opinion };
}

function judged(knowledge: Knowledge, state: CaseState, all: readonly Alone[], index: number, words: Words): Judged {
  const one = all[index];
  if (!one) throw new Error(`there is no reading ${index} of ${all.length}`);
  const { measured, reading } = one;
  const reader: Reader = { knowledge, words, units: state.units ?? 'us' };
  const against = all.findIndex((other) => other !== one && contradicts(one, other));
  const other = all[against];
  const opinion = other ? contradicted(knowledge, one, other, index > against) : one.opinion;
  const named =
    other && `${other.reading.name[words]}, ${valueText(reader, other.measured.value, other.reading.quantity)}`;
  const { expected, more } = opinion;
  const places = {
    value: measured.value,
    expected,
    atC: measured.atC,
    other: named ?? null,
    ...(more ? { more } : {}),
  };
  return {
    measured,
    step: reading.id,
    verdict: opinion.verdict,
    expected: opinion.expected,
    against: opinion.against,
    outcome: opinion.outcome,
    why: why(reader, reading, opinion.outcome, places),
    weights: opinion.weights && relative(reading, opinion.weights),
    asks: opinion.asks,
  };
}

/** Both are inconclusive; the cheaper one, or of two alike the newer, is to be repeated. */
function contradicted(knowledge: Knowledge, one: Alone, other: Alone, isNewer: boolean): Opinion {
  const [own, others] = [effort(knowledge, one.reading), effort(knowledge, other.reading)];
  const repeat = own === others ? isNewer : own < others;
  const outcome = repeat ? 'inconclusive-contradicts' : 'inconclusive-contradicted';
  return { ...one.opinion, verdict: 'inconclusive', outcome, weights: null, asks: repeat ? 'repeat' : null };
}

/** In the order of the reading's states, the largest 1; null where no state explains the value better than another. */
function relative(reading: Reading, weights: NonNullable<Opinion['weights']>): readonly number[] | null {
  const inOrder = reading.values.map((state) => weights[state] ?? 0);
  const most = Math.max(...inOrder);
  return most > 0 && Number.isFinite(most) ? inOrder.map((weight) => weight / most) : null;
}

/** A judged reading as the channels show it. */
export function toOut({ measured, verdict, expected, against, why: sentence }: Judged): ReadingOut {
  const { part, quantity, value, unit, atC, atAssumed } = measured;
  return { part, quantity, value, unit, atC, atAssumed, verdict, expected, against, why: sentence };
}
