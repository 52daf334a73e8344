// A case on the bench: the real knowledge folder, readings as a front end states them, and what they do to the ranking.

import { newCase, type CaseState, type Measured } from '../../src/case/state.js';
import { beliefOf, ranking } from '../../src/diagnosis/belief.js';
import { evidenceOf } from '../../src/diagnosis/evidence.js';
import { modelOf } from '../../src/diagnosis/model.js';
import type { Words } from '../../src/knowledge/facts.js';
import type { ReadingIn } from '../../src/message/incoming.js';
import { accept } from '../../src/readings/accept.js';
import { judge, judgeAll, type Judged } from '../../src/readings/judge.js';
import { realKnowledge } from '../support/knowledge.js';

export const knowledge = realKnowledge();

export const NOW = '2026-11-25T10:00:00Z';

type Quantity = ReadingIn['quantity'];
export type Stated = Omit<ReadingIn, 'part' | 'quantity'> & { readonly at?: string; readonly atAssumed?: boolean };

/** A reading as it is kept, from what a front end states; throws where it is refused. */
export function measured(step: string, stated: Stated): Measured {
  const [part = '', quantity = ''] = step.split('.');
  const { at = NOW, atAssumed = false, ...rest } = stated;
  const accepted = accept(knowledge, { part, quantity: quantity as Quantity, ...rest }, atAssumed);
  if (!accepted.ok) throw new Error(`${accepted.field}: ${accepted.message}`);
  return { ...accepted.measurement, at, by: 'u1' };
}

/** What is known of a case: findings with one value each, its readings in order, its unit family. */
export interface Known {
  readonly found?: Readonly<Record<string, string>>;
  readonly foundAt?: string;
  readonly readings?: readonly Measured[];
  readonly family?: string;
  readonly units?: 'us' | 'si';
}

export function caseOf({ found = {}, foundAt = NOW, readings = [], family, units }: Known = {}): CaseState {
  const facts: CaseState['facts'] = Object.fromEntries(
    Object.entries(found).map(([finding, value]) => [
      finding,
      { values: [value], denied: [], notSure: false, confidence: 1, from: 'answer' as const, at: foundAt, by: 'u1' },
    ]),
  );
  return { ...newCase(NOW, 'technician'), facts, readings, family: family ?? null, units: units ?? null };
}

/** One reading judged in a case whose other readings are `known.readings`. */
export function judged(step: string, stated: Stated, known: Known = {}, words: Words = 'technician'): Judged {
  const one = measured(step, stated);
  return judge(knowledge, caseOf(known), one, known.readings ?? [], words);
}

/** The probability of each fault with nothing known but these readings of the case. */
export function ranked(known: Known): (fault: string) => number {
  const model = modelOf(knowledge);
  const observations = judgeAll(knowledge, caseOf(known), 'technician').flatMap(({ step, weights }) =>
    weights === null ? [] : [{ step, value: null, present: true, weights, confidence: 1 }],
  );
  const list = ranking(model, beliefOf(model, evidenceOf(knowledge, model, observations)));
  return (fault) => list.find((each) => each.fault === fault)?.probability ?? NaN;
}

/** By which factor a reading changes the odds of a fault. */
export function odds(fault: string, step: string, stated: Stated, known: Known = {}): number {
  const before = ranked(known)(fault);
  const after = ranked({ ...known, readings: [...(known.readings ?? []), measured(step, stated)] })(fault);
  return after / (1 - after) / (before / (1 - before));
}

/** The defrost was forced just now, and reached. */
export const forced: Known = { found: { 'timer.forced-defrost': 'compressor-stops-heater-cold' } };
