/** Ice and water in the reader's units, as roughly as they are known. */
import type { Knowledge, Words } from '../knowledge/facts.js';
import type { UnitSystem } from '../physics/units.js';
import { say } from './say.js';

/** What the figures of one reply are written in. */
export interface Reader {
  readonly knowledge: Knowledge;
  readonly words: Words;
  readonly units: UnitSystem;
}

// NIST SP 811, appendix B: a liquid quart is 0.946 352 9 L, a pound 0.453 592 37 kg.
const QUART_L = 0.9463529;
const POUND_KG = 0.45359237;

/** Tenths below one, halves below ten, whole numbers above. */
export function about(value: number): number {
  const step = value < 1 ? 10 : value < 10 ? 2 : 1;
  return Math.max(1, Math.round(value * step)) / step;
}

export function waterText({ knowledge, words, units }: Reader, litres: number): string {
  return units === 'us'
    ? say(knowledge, words, 'amount.quarts', { n: about(litres / QUART_L) })
    : say(knowledge, words, 'amount.litres', { n: about(litres) });
}

export function iceText({ knowledge, words, units }: Reader, kilograms: number): string {
  return units === 'us'
    ? say(knowledge, words, 'amount.pounds', { n: about(kilograms / POUND_KG) })
    : say(knowledge, words, 'amount.kilograms', { n: about(kilograms) });
}
