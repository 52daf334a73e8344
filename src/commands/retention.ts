/** What was kept long enough: at the start of a talk, and daily while the bot runs, closed cases older than the setting says are emptied of people. */
import { forgetOld } from '../conversation/erase.js';
import type { Parts } from './parts.js';

export function keepNoLonger({ knowledge, store, files }: Parts, days: number): void {
  const cases = forgetOld(knowledge, store, days, { now: new Date(), forget: files.forget });
  if (cases.length > 0) store.sweep(false);
}
