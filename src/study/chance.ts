/** What the study draws, from numbers of 0 to 1. */
import { numbersFrom } from '../diagnosis/seeded.js';

/** Numbers of their own for each part of a study, so that it does not matter who draws first. */
export function drawsOf(seed: number, ...parts: readonly number[]): () => number {
  let mixed = seed | 0;
  for (const part of parts) mixed = Math.imul(mixed ^ (part + 0x9e3779b9), 0x85ebca6b) ^ (mixed >>> 13);
  return numbersFrom(mixed);
}

/** The place where this share of all the weights is reached; weights need not sum to 1. */
export function placeOf(weights: ArrayLike<number>, share: number): number {
  let total = 0;
  for (let i = 0; i < weights.length; i += 1) total += weights[i]!;
  let left = share * total;
  for (let i = 0; i < weights.length; i += 1) {
    left -= weights[i]!;
    if (left < 0) return i;
  }
  return weights.length - 1;
}

/** A standard normal number from two of 0 to 1 (Box and Muller 1958, Annals of Mathematical Statistics 29). */
export const normal = (random: () => number): number =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
