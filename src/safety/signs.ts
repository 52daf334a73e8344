/**
 * What a text shows to the second opinion: its stems, which of them stand side by side, and the lists of the knowledge
 * folder that its words belong to. What stands under a negation is another sign.
 */
import type { Matcher, ReadText } from '../message/phrases.js';

/** Each sign once. */
export function signsOf({ tokens }: ReadText, spots: ReturnType<Matcher<unknown>['spots']>): string[] {
  const signs = new Set<string>();
  let negator = -REACH - 1;
  let clause = -1;
  let telling = '^';
  let before = '^';
  tokens.forEach((token, i) => {
    const stem = /^\d/.test(token.word) ? '#' : token.stem;
    const denied = token.clause === clause && i - negator <= REACH;
    if (token.negator) {
      negator = i;
      clause = token.clause;
    }
    signs.add(`${before}_${stem}`);
    before = stem;
    if (!PLAIN.has(token.word)) {
      signs.add(denied && !token.negator ? `!${stem}` : stem);
      signs.add(`${telling} ${stem}`);
      telling = stem;
    }
    for (const { concept } of spots[i] ?? []) signs.add(`${denied ? '!' : ''}<${concept}>`);
  });
  return [...signs];
}
/** tokens behind a negator that stand under it */
const REACH = 5;
const PLAIN = new Set(
  'the a an is am are was were be been being of to and it i my our we you that this in on at for with so'.split(' '),
);
