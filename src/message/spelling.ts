/** Mends small spelling mistakes towards the words that the knowledge folder uses; leaves every other word alone. */
import { DamerauLevenshteinDistance } from 'natural/lib/natural/distance/index.js';
import { stemOf } from './text.js';

export interface Speller {
  /** stems of known words that this word may be meant for; empty where it is known or nothing is near */
  readonly near: (word: string) => readonly string[];
}

const SHORTEST = 5;
const LONG = 9;
const MAX_CACHE = 20_000;

/** `ordinary`: words that look like known ones and are not meant for them. */
export function spellerFor(words: Iterable<string>, ordinary: ReadonlySet<string>): Speller {
  const known = new Set<string>();
  const knownStems = new Set<string>();
  const buckets = new Map<string, string[]>();
  for (const word of words) {
    if (known.has(word)) continue;
    known.add(word);
    knownStems.add(stemOf(word));
    if (word.length < SHORTEST - 1 || !/^[a-z]+$/.test(word)) continue;
    const key = word[0] ?? '';
    const bucket = buckets.get(key);
    if (bucket) bucket.push(word);
    else buckets.set(key, [word]);
  }
  const cache = new Map<string, readonly string[]>();
  const search = (word: string): readonly string[] => {
    if (word.length < SHORTEST || word.length > 24 || !/^[a-z]+$/.test(word) || ordinary.has(word)) return [];
    if (known.has(word) || knownStems.has(stemOf(word))) return [];
    const limit = word.length >= LONG ? 2 : 1;
    const letters = lettersOf(word);
    let best = limit + 1;
    let found: string[] = [];
    for (const candidate of buckets.get(word[0] ?? '') ?? []) {
      if (Math.abs(candidate.length - word.length) > limit || bits(letters ^ lettersOf(candidate)) > 2 * limit)
        continue;
      const distance = DamerauLevenshteinDistance(word, candidate, { restricted: true });
      if (distance < best) {
        best = distance;
        found = [candidate];
      } else if (distance === best && distance <= limit) found.push(candidate);
    }
    return [...new Set(found.map(stemOf))];
  };
  return {
    near(word) {
      let result = cache.get(word);
      if (!result) {
        result = search(word);
        if (cache.size >= MAX_CACHE) cache.clear();
        cache.set(word, result);
      }
      return result;
    },
  };
}

/** Which letters a word has, as bits: two words that differ in many letters need no closer look. */
function lettersOf(word: string): number {
  let mask = 0;
  for (let i = 0; i < word.length; i += 1) mask |= 1 << (word.charCodeAt(i) - 97);
  return mask;
}

function bits(mask: number): number {
  let count = 0;
  for (let m = mask; m !== 0; m &= m - 1) count += 1;
  return count;
}
