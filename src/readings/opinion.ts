// What a judge is given and what it answers. One judge a file; the knowledge folder names the judge of each reading.

import type { CaseState, Measured } from '../case/state.js';
import type { Knowledge, QuantityName, Reading } from '../knowledge/facts.js';
import type { Against, Expected, Verdict } from '../message/outgoing.js';

/** A precondition to ask for: the part's temperature, its mark, time to settle, the cold, or the same reading again. */
export type Asks = 'temperature' | 'mark' | 'settle' | 'cold' | 'repeat' | null;

/** A reading without its value: all that decides what to expect. */
export type Given = Omit<Measured, 'value'>;

export interface Setting {
  readonly knowledge: Knowledge;
  readonly state: CaseState;
  readonly reading: Reading;
  readonly given: Given;
  /** the other readings of the case, in order */
  readonly others: readonly Measured[];
}

export interface Expectation {
  /** what a good part may show: its band widened by the uncertainty of meter and thermometer, SI; null where unknown */
  readonly expected: Expected | null;
  readonly against: Against;
  /** key of the reading's `why` when there is no value yet */
  readonly outcome: string;
}

export interface Opinion {
  readonly verdict: Verdict;
  readonly expected: Expected | null;
  readonly against: Against;
  /** key of the reading's `why` */
  readonly outcome: string;
  /** how likely what was read is under each state of the part, relative; null where it tells nothing */
  readonly weights: Readonly<Record<string, number>> | null;
  readonly asks: Asks;
  /** other values that its sentence names, SI */
  readonly more?: Readonly<Record<string, Named>>;
}

/** A value for a place in a sentence; a plain number is shown with one decimal. */
interface Named {
  readonly value: number;
  readonly as: QuantityName | 'number';
}

export interface Judge {
  readonly id: string;
  /** states of the part that it weighs; null where the numbers name them */
  readonly states: readonly string[] | null;
  /** numbers it works with, each with its unit */
  readonly numbers: Readonly<Record<string, string>>;
  /** keys of `why` that it answers with */
  readonly outcomes: readonly string[];
  /** numbers and outcomes that depend on the part */
  readonly also?: (reading: Reading) => Pick<Judge, 'numbers' | 'outcomes'>;
  readonly expects: (setting: Setting) => Expectation;
  readonly judges: (setting: Setting, value: Measured['value']) => Opinion;
}

/** The words of an opinion that tells nothing, for a precondition that is not met. */
export function tellsNothing(expectation: Expectation, outcome: string, asks: Asks = null): Opinion {
  const { expected, against } = expectation;
  return { verdict: 'inconclusive', expected, against, outcome, weights: null, asks };
}

/** Two readings that cannot both be true: the cheaper one is repeated, the other waits for it. */
export const CONTRADICTING = ['inconclusive-contradicts', 'inconclusive-contradicted'] as const;
