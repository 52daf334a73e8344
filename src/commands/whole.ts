/** A whole number given as an option: from 1 to the most that makes sense. */
import { UsageProblem } from './problem.js';

export function whole(name: string, given: string | undefined, otherwise: number, most: number): number {
  if (given === undefined) return otherwise;
  const n = Number(given);
  if (!/^\d+$/.test(given) || n < 1 || n > most) throw new UsageProblem(`--${name}: a whole number from 1 to ${most}`);
  return n;
}
