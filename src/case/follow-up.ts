/** When it is worth asking how it went: a question asked too early only tires. */
import type { Knowledge } from '../knowledge/facts.js';
import type { CaseState } from './state.js';

/** Hours after this advice until it is worth asking how it went. */
export const hoursUntilResult = (knowledge: Knowledge, { fault, words }: NonNullable<CaseState['advice']>): number =>
  knowledge.faults.get(fault)?.repair[words].askAfter?.value ?? knowledge.waits.afterRepair.value;
