// What to expect of a reading that nobody has taken yet: "what should a 450 W heater read?"

import { newCase, type CaseState } from '../case/state.js';
import type { Measurement } from '../case/events.js';
import type { Knowledge, Words } from '../knowledge/facts.js';
import type { Against, Expected } from '../message/outgoing.js';
import { judgeOf } from './judges.js';
import type { Given } from './opinion.js';
import { why } from './words.js';

/** What it is expected by, SI, as `accept` leaves it; each may be left out. */
export interface ExpectedBy {
  readonly rating?: Measurement['rating'];
  readonly sheet?: Measurement['sheet'];
  readonly curve?: string | null;
  /** the part's temperature, degC */
  readonly atC?: number | null;
}

export interface WhatToExpect {
  /** null where it cannot be told without the part's temperature, or outside the curve */
  readonly expected: Expected | null;
  readonly against: Against;
  readonly why: string;
}

/**
 * The range or state of a good part, SI, what it rests on, and one sentence in the person's words.
 * @param state a case, where there is one: its unit family, its supply and its other readings count
 * @throws Error when the part or quantity is not in the knowledge folder
 */
export function expectation(
  knowledge: Knowledge,
  part: string,
  quantity: Measurement['quantity'],
  by: ExpectedBy = {},
  words: Words = 'technician',
  state: CaseState = newCase('1970-01-01T00:00:00Z', 'technician'),
): WhatToExpect {
  const reading = knowledge.readings.get(`${part}.${quantity}`);
  if (!reading) throw new Error(`the knowledge folder has no reading ${part}.${quantity}`);
  const { rating = null, sheet = null, curve = null, atC = null } = by;
  const given: Given = {
    part,
    quantity,
    unit: null,
    atC,
    atAssumed: false,
    settledMinutes: null,
    sheet,
    rating,
    curve,
    at: state.lastAt,
    by: '',
  };
  const { expected, against, outcome } = judgeOf(reading).expects({
    knowledge,
    state,
    reading,
    given,
    others: state.readings,
  });
  const places = { value: null, expected, atC, other: null };
  return { expected, against, why: why({ knowledge, words, units: state.units ?? 'us' }, reading, outcome, places) };
}
