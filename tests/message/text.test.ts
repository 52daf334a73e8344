import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { isNegated } from '../../src/message/negation.js';
import { normalForm, stemOf, tokenise } from '../../src/message/text.js';

const words = (text: string): string[] => tokenise(text).map((t) => t.word);
/** The words of each clause. */
function clauses(text: string): string[] {
  const by = new Map<number, string[]>();
  for (const t of tokenise(text)) by.set(t.clause, [...(by.get(t.clause) ?? []), t.word]);
  return [...by.values()].map((c) => c.join(' '));
}
/** Whether the word (its last occurrence) stands under a negation. */
function denied(text: string, word: string): boolean {
  const tokens = tokenise(text);
  const at = tokens.findLastIndex((t) => t.word === word);
  if (at < 0) throw new Error(`"${word}" is not in "${text}"`);
  return isNegated(tokens, at, at);
}

describe('words', () => {
  test.each([
    ["It doesn't shut", ['it', 'does', 'not', 'shut']],
    ['it doesnt shut', ['it', 'does', 'not', 'shut']],
    ["can't, won't, ain't", ['can', 'not', 'will', 'not', 'is', 'not']],
    ["the door's open", ['the', 'door', 'is', 'open']],
    [
      "they're iced, I've looked, we'll see, I'd say, I'm sure",
      'they are iced i have looked we will see i would say i am sure'.split(' '),
    ],
    ['w/o power & w/ ice', ['without', 'power', 'and', 'with', 'ice']],
    ['R-600a, 5.4 kohm at 72,5', ['r', '600', 'a', '5.4', 'kohm', 'at', '72,5']],
    ['', []],
    [' \t\u00a0 ', []],
    ['???', []],
  ])('%j', (text, expected) => {
    expect(words(text)).toEqual(expected);
  });

  // What phones and word processors put in place of plain characters.
  test.each([
    ['It doesn\u2019t shut', 'it does not shut'],
    ['doesn\u02bct \u2018freeze\u2019', 'does not freeze'],
    ['FRO\u0302ST', 'frost'],
    ['cafe\u0301s', 'cafes'],
    ['refrig\u00aderator', 'refrigerator'],
    ['sm\u200do\u2060ke', 'smoke'],
    ['gr\u00e9sil caf\u00e9', 'gresil cafe'],
    ['\uff33\uff2d\uff2f\uff2b\uff25', 'smoke'],
    ['ice\u2014snow\u2013frost', 'ice snow frost'],
    ['frost\u200bon\u200bthe\u200bwall', 'frost on the wall'],
    ['\ufefffrost\u00a0on\u202ethe wall', 'frost on the wall'],
  ])('%j reads as %j', (text, expected) => {
    expect(words(text).join(' ')).toBe(expected);
  });

  // Letters that phones and tricks draw the plain ones with; what is not drawn at all (Unicode, DerivedCoreProperties).
  test.each([
    ['\u{1d5c0}\u{1d5ba}\u{1d5cc}', 'gas'],
    ['g\u{e0041}as', 'gas'],
    ['g\u034fa\ufe0fs', 'gas'],
    ['5.\u20604', '5.4'],
    ['g\u2066as', 'g as'],
  ])('%j reads as %j', (text, expected) => {
    expect(words(text).join(' ')).toBe(expected);
  });

  // A zero-width space parts words where a script has no blanks; inside a word of ours it parts them too.
  test.fails('smo\\u200bke reads as one word', () => {
    expect(words('smo\u200bke')).toEqual(['smoke']);
  });

  test('keep their place in the text as it came', () => {
    const text = 'Le caf\u00e9 isn\u2019t \u{1f9ca} COLD';
    expect(tokenise(text).map((t) => text.slice(t.start, t.end))).toEqual([
      'Le',
      'caf\u00e9',
      'isn\u2019t',
      'isn\u2019t',
      'COLD',
    ]);
  });

  test('share a stem', () => {
    expect(new Set(['freeze', 'freezes', 'freezing'].map(stemOf)).size).toBe(1);
    expect(stemOf('leaking')).toBe(stemOf('leaks'));
  });

  // Worked examples of the algorithm: M. F. Porter, An algorithm for suffix stripping, Program 14 (1980), 130-137.
  test.each([
    ['caresses', 'caress'],
    ['ponies', 'poni'],
    ['agreed', 'agre'],
    ['plastered', 'plaster'],
    ['motoring', 'motor'],
    ['hopping', 'hop'],
    ['failing', 'fail'],
    ['happy', 'happi'],
    ['relational', 'relat'],
    ['electriciti', 'electr'],
    ['adjustable', 'adjust'],
    ['probate', 'probat'],
    ['controll', 'control'],
  ])('%s stems to %s', (word, stem) => {
    expect(stemOf(word)).toBe(stem);
  });
});

describe('clauses', () => {
  test.each([
    ['It is warm. The fan is silent', ['it is warm', 'the fan is silent']],
    ['warm! why? now; yes. no', ['warm', 'why', 'now', 'yes', 'no']],
    ['one line\nanother', ['one line', 'another']],
    ['the freezer is cold but the fridge is warm', ['the freezer is cold', 'but the fridge is warm']],
    ['cold although it runs', ['cold', 'although it runs']],
    ['it reads 5.4 kohm', ['it reads 5.4 kohm']],
    ['frost, on the wall', ['frost on the wall']],
  ])('%j', (text, expected) => {
    expect(clauses(text)).toEqual(expected);
  });
});

describe('what stands under a negation', () => {
  test.each([
    ['there is no frost', 'frost'],
    ['not on the back wall', 'wall'],
    ["the fan doesn't run", 'run'],
    ['never any smoke', 'smoke'],
    ['nobody got shocked', 'shocked'],
    ['neither smoke nor sparks', 'smoke'],
    ['neither smoke nor sparks', 'sparks'],
    ['without any smell', 'smell'],
    ['no smoke, sparks or smell', 'smell'],
    ['no smoke, sparks or smell', 'sparks'],
    ['I can not see any frost', 'frost'],
    ['smoke? no', 'smoke'],
    ['any smoke? None.', 'smoke'],
    ['it has not got a drain heater', 'heater'],
  ])('%j denies %j', (text, word) => {
    expect(denied(text, word)).toBe(true);
  });

  test.each([
    ["not on the back wall, it's round the door", 'door'],
    ["isn't just warm, it's smoking", 'smoking'],
    ["it isn't just warm", 'warm'],
    ['not only frost', 'frost'],
    ['no doubt there is smoke', 'smoke'],
    ['not sure why there is smoke', 'smoke'],
    ['no idea, there is smoke', 'smoke'],
    ['the fan is not running. there is smoke', 'smoke'],
    ['no frost but smoke', 'smoke'],
    ['it will not stop smoking', 'smoking'],
    ['smoke. no frost', 'smoke'],
    ['smoke? no frost', 'smoke'],
    ["it's not cooling, smoke coming out the back", 'smoke'],
    ['no leak and I smell gas', 'gas'],
    ['no water on the floor, sparks from the plug', 'sparks'],
    ['frost everywhere', 'frost'],
    ['not warm at all when I looked in there on the monday before last week and yesterday smoke', 'smoke'],
  ])('%j does not deny %j', (text, word) => {
    expect(denied(text, word)).toBe(false);
  });
});

describe('any text a person can send', () => {
  const anyText = fc.oneof(
    fc.string({ unit: 'binary', maxLength: 4000, size: 'max' }),
    fc.string({ unit: 'grapheme', maxLength: 1000, size: 'max' }),
    fc
      .array(
        fc.constantFrom(
          'no',
          "isn't",
          'not',
          ',',
          '.',
          ' it ',
          'is',
          'smoke',
          '\u2019s',
          '\u200b',
          '\u0301',
          '\ud83e',
          '5,4',
          '\n',
        ),
        { maxLength: 400 },
      )
      .map((x) => x.join(' ')),
  );

  test('is cut into words, each inside the text and after the one before', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        let last = 0;
        let clause = 0;
        for (const t of tokenise(text)) {
          expect(t.start).toBeGreaterThanOrEqual(last);
          expect(t.end).toBeGreaterThan(t.start);
          expect(t.end).toBeLessThanOrEqual(text.length);
          expect(t.clause).toBeGreaterThanOrEqual(clause);
          expect(t.word).toMatch(/^\S+$/);
          last = t.start;
          clause = t.clause;
        }
      }),
      { numRuns: 200 },
    );
  });

  test('keeps its length in the normal form, which has no capitals', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        const normal = normalForm(text);
        expect(normal).toHaveLength(text.length);
        expect(normal).not.toMatch(/[A-Z]/);
      }),
      { numRuns: 200 },
    );
  });

  test('gives every word an answer to whether it is denied', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        const tokens = tokenise(text);
        tokens.forEach((_, i) => expect(typeof isNegated(tokens, i, i)).toBe('boolean'));
      }),
      { numRuns: 50 },
    );
  });

  // Words that every object of the language has of its own are words like any other here.
  test.each(['constructor', 'the constructor said', 'tostring valueof', '__proto__', 'hasownproperty'])(
    '%s',
    (text) => {
      expect(words(text).join(' ')).toBe(text.replaceAll('_', ''));
    },
  );
});
