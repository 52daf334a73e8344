import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Concepts } from '../../src/knowledge/facts.js';
import { matcherFor, read, spanOf, spellerOf } from '../../src/message/phrases.js';

const concepts: Concepts = new Map([
  ['ice', { words: ['frost', 'ice', 'snow', 'white stuff'], not: ['ice maker', 'ice cream', 'ice box'] }],
  ['place', { words: ['back wall', 'floor', 'rear of the freezer'], not: ['kitchen floor'] }],
  ['unused', { words: ['frost'], not: ['frost free'] }],
]);

/** What a matcher of these phrases finds: phrase, span, and whether it is denied. */
function found(phrases: readonly string[], text: string): string[] {
  const speller = spellerOf(phrases, concepts, ['leather']);
  const matcher = matcherFor(
    phrases.map((phrase) => ({ owner: phrase, phrase })),
    concepts,
    speller,
  );
  const source = read(text);
  return matcher.find(source).map((m) => `${m.negated ? 'no ' : ''}${m.owner}: ${spanOf(source, m)}`);
}

describe('a phrase', () => {
  test.each([
    ['in other forms of its words', 'door leaks', 'The doors are leaking', 'doors are leaking'],
    ['with small words between', 'fan runs', 'the fan just still runs', 'fan just still runs'],
    ['with a small mistake', 'compressor clicks', 'compresser clicks', 'compresser clicks'],
    ['with either of two words', 'fan|blower hums', 'the blower hums', 'blower hums'],
    [
      'with small words of its own that need not be said',
      'door of the freezer',
      'freezer door, door freezer',
      'door freezer',
    ],
    ['in capitals', 'smoke', 'SMOKE', 'SMOKE'],
    ['as its words were sent', 'does not shut', 'It doesn\u2019t shut', 'doesn\u2019t shut'],
  ])('is found %s', (_, phrase, text, span) => {
    expect(found([phrase], text)).toEqual([`${phrase}: ${span}`]);
  });

  test.each([
    ['across the end of a sentence', 'fan runs', 'I saw the fan. It runs.'],
    ['across "but"', 'fan runs', 'the fan but it runs'],
    ['with a word of weight between', 'fan runs', 'the fan motor runs'],
    ['the other way round', 'fan runs', 'runs the fan'],
    ['inside another word', 'ice', 'nice price'],
    ['with half of it', 'fan runs', 'the fan'],
  ])('is not found %s', (_, phrase, text) => {
    expect(found([phrase], text)).toEqual([]);
  });

  test('lets up to six words pass where it has dots', () => {
    const phrase = 'frost ... wall';
    expect(found([phrase], 'frost one two three four five six wall')).toHaveLength(1);
    expect(found([phrase], 'frost one two three four five six seven wall')).toEqual([]);
    expect(found([phrase], 'frost. wall')).toEqual([]);
  });

  test('lets up to two small words pass elsewhere', () => {
    expect(found(['frost wall'], 'frost on the wall')).toHaveLength(1);
    expect(found(['frost wall'], 'frost on all the very wall')).toEqual([]);
  });

  test('of small words only is found as it stands', () => {
    expect(found(['it is'], 'it is')).toHaveLength(1);
  });

  test('is found every time it is said', () => {
    expect(found(['smoke'], 'smoke here. more smoke there')).toHaveLength(2);
  });

  test('that is denied is found and marked', () => {
    expect(found(['smoke'], 'there is no smoke')).toEqual(['no smoke: smoke']);
    expect(found(['smoke'], 'smoke? no')).toEqual(['no smoke: smoke']);
  });

  test('with a denial of its own is not denied by it', () => {
    expect(found(['not shut'], 'the door does not shut')).toEqual(['not shut: not shut']);
  });

  test('that begins with a denial is found with any of its words', () => {
    expect(found(['not shut'], 'it never shuts')).toEqual(['not shut: never shuts']);
  });
});

describe('a list of words in a phrase', () => {
  test.each([
    ['its first word', 'frost on the back wall', 'frost on the back wall'],
    ['another of its words', 'snow at the back wall', 'snow at the back wall'],
    ['an entry of several words', 'white stuff on the floor', 'white stuff on the floor'],
    ['an entry with small words left out', 'ice, rear freezer', 'ice, rear freezer'],
  ])('stands for %s', (_, text, span) => {
    expect(found(['<ice> <place>'], text)).toEqual([`<ice> <place>: ${span}`]);
  });

  test('does not stand for words that mean something else', () => {
    expect(found(['<ice>'], 'the ice maker and the ice cream')).toEqual([]);
    expect(found(['<ice>'], 'ice on the ice maker')).toEqual(['<ice>: ice']);
    expect(found(['<ice> <place>'], 'ice on the kitchen floor')).toEqual([]);
  });

  test('does not stop another list from standing there', () => {
    expect(found(['<ice>'], 'frost free')).toEqual(['<ice>: frost']);
  });

  test('may be missing from the folder: then the phrase is never found', () => {
    expect(found(['<nowhere> wall', 'wall'], 'frost wall')).toEqual(['wall: wall']);
  });
});

describe('any text', () => {
  const phrases = ['<ice> ... <place>', 'not shut', 'fan|blower hums', 'does it ... smoke', 'of the'];
  const parts = fc.constantFrom(
    ...'frost ice maker on the back wall floor not no shut fan hums . , ! does it smoke but \u200b of kitchen icee'.split(
      ' ',
    ),
  );

  test('is matched without an error, every match inside it', () => {
    const speller = spellerOf(phrases, concepts, []);
    const matcher = matcherFor(
      phrases.map((phrase) => ({ owner: phrase, phrase })),
      concepts,
      speller,
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string({ unit: 'binary', maxLength: 300 }),
          fc.array(parts, { maxLength: 80 }).map((p) => p.join(' ')),
        ),
        (text) => {
          const source = read(text);
          for (const m of matcher.find(source)) {
            expect(m.from).toBeGreaterThanOrEqual(0);
            expect(m.to).toBeGreaterThanOrEqual(m.from);
            expect(m.to).toBeLessThan(source.tokens.length);
            expect(m.weight).toBe(m.to - m.from + 1);
            expect(source.tokens[m.from]?.clause).toBe(source.tokens[m.to]?.clause);
            expect(text).toContain(spanOf(source, m));
          }
        },
      ),
      { numRuns: 300 },
    );
  });

  test('of 4,000 characters of one repeated word is matched too, without running away', () => {
    expect(found(['frost ... frost ... frost ... frost ... wall'], 'frost '.repeat(666)).length).toBe(0);
    expect(found(['no ... no ... no ... smoke'], 'no '.repeat(1333)).length).toBe(0);
  });
});
