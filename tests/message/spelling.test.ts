import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { spellerFor } from '../../src/message/spelling.js';
import { stemOf } from '../../src/message/text.js';

const KNOWN = [
  'compressor',
  'gasket',
  'heater',
  'leather',
  'drain',
  'frost',
  'ice',
  'fan',
  'evaporator',
  'casket',
  'dispenser',
  'defrosts',
];
const speller = spellerFor(KNOWN, new Set(['weather', 'heather']));
const meant = (word: string): string[] => [...speller.near(word)];

describe('a misspelt word', () => {
  // One error each of the four kinds that F. J. Damerau, A technique for computer detection and correction of spelling
  // errors, Comm. ACM 7 (1964), 171-176, found to make up 80 % of all: wrong letter, letter too much, letter missing,
  // two neighbours swapped.
  test.each([
    ['wrong letter', 'gaskit', 'gasket'],
    ['letter too much', 'heatter', 'heater'],
    ['letter missing', 'heter', 'heater'],
    ['neighbours swapped', 'forst', 'frost'],
    ['neighbours swapped', 'gakset', 'gasket'],
  ])('%s: %s is meant for %s', (_, word, known) => {
    expect(meant(word)).toContain(stemOf(known));
  });

  test('two errors are forgiven in a long word, one in a short', () => {
    expect(meant('compresser')).toEqual([stemOf('compressor')]);
    expect(meant('comprosser')).toEqual([stemOf('compressor')]);
    expect(meant('evaparater')).toEqual([stemOf('evaporator')]);
    expect(meant('goskit')).toEqual([]);
    expect(meant('dospencer')).toEqual([stemOf('dispenser')]);
    expect(meant('dofrosks')).toEqual([]);
  });

  test('as near to two known words may be either', () => {
    const two = spellerFor(['gasket', 'gashet'], new Set());
    expect([...two.near('gasset')].sort()).toEqual(['gashet', 'gasket']);
  });
});

describe('a word is left alone', () => {
  test.each([
    ['that is known', 'gasket'],
    ['that is another form of a known one', 'drains'],
    ['that is ordinary', 'weather'],
    ['that is ordinary, though a known word is near', 'heather'],
    ['of four letters or fewer', 'icee'],
    ['of more than 24 letters', 'compressorcompressorcompr'],
    ['with a figure in it', 'gasket5'],
    ['with another first letter', 'rompressor'],
    ['that is like nothing known', 'zebra'],
    ['that is empty', ''],
  ])('%s', (_, word) => {
    expect(meant(word)).toEqual([]);
  });
});

test('any word gets an answer, the same one each time', () => {
  fc.assert(
    fc.property(fc.oneof(fc.string({ unit: 'binary', maxLength: 40 }), fc.stringMatching(/^[a-z]{5,12}$/)), (word) => {
      const first = meant(word);
      expect(meant(word)).toEqual(first);
      for (const stem of first) expect(KNOWN.map(stemOf)).toContain(stem);
    }),
    { numRuns: 300 },
  );
});

/** The optimal string alignment distance by its recurrence, written out plainly. */
function alignment(a: string, b: string): number {
  const d = Array.from({ length: a.length + 1 }, (_, i) =>
    Array.from({ length: b.length + 1 }, (_x, j) => (i === 0 ? j : j === 0 ? i : 0)),
  );
  const at = (i: number, j: number): number => d[i]?.[j] ?? Infinity;
  for (let i = 1; i <= a.length; i += 1)
    for (let j = 1; j <= b.length; j += 1) {
      const swap = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1] ? at(i - 2, j - 2) + 1 : Infinity;
      (d[i] as number[])[j] = Math.min(
        at(i - 1, j) + 1,
        at(i, j - 1) + 1,
        at(i - 1, j - 1) + Number(a[i - 1] !== b[j - 1]),
        swap,
      );
    }
  return at(a.length, b.length);
}

test('what is near is as near as can be, and no nearer word with the same first letter is missed', () => {
  const edits = fc.constantFrom(...KNOWN.filter((w) => w.length >= 5)).chain((word) =>
    fc.tuple(
      fc.constant(word),
      fc.array(fc.tuple(fc.nat(word.length - 1), fc.constantFrom(...'a e i o s t r k x'.split(' '))), {
        minLength: 1,
        maxLength: 2,
      }),
    ),
  );
  fc.assert(
    fc.property(edits, ([word, changes]) => {
      const letters = word.split('');
      for (const [at, letter] of changes) letters[Math.max(at, 1)] = letter;
      const said = letters.join('');
      fc.pre(
        !KNOWN.includes(said) && !KNOWN.map(stemOf).includes(stemOf(said)) && said !== 'weather' && said !== 'heather',
      );
      const limit = said.length >= 9 ? 2 : 1;
      const near = KNOWN.filter((k) => k.length >= 4 && k[0] === said[0]).map((k) => ({
        stem: stemOf(k),
        far: alignment(said, k),
      }));
      const best = Math.min(...near.map((n) => n.far));
      const expected = best <= limit ? near.filter((n) => n.far === best).map((n) => n.stem) : [];
      expect(meant(said).sort()).toEqual(expected.sort());
    }),
    { numRuns: 300 },
  );
});
