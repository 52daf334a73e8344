// Whatever a person wrote can be shown: nothing in it moves a cursor, turns a line round, hides, or makes a line of ours.

import { PassThrough } from 'node:stream';
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { plainScreen } from '../../src/channels/plain.js';
import { shown, shownInLine } from '../../src/message/shown.js';
import { runs, tried } from '../support/runs.js';

// ECMA-48 (control sequences), Unicode Standard Annex 9 (directional formatting), DerivedCoreProperties
test.each([
  ['\u001b[2Jgone', '[2Jgone'],
  ['\u001b]0;title\u0007x', ']0;titlex'],
  ['\u009b31mred', '31mred'],
  ['a\u202eb\u2066c\u200bd\ufeffe\u{e0041}f', 'abcdef'],
  ['one\r\ntwo\tthree\rfour', 'one\ntwo threefour'],
  ['half \ud83d a face', 'half  a face'],
  ['\u{1f468}\u200d\u{1f469}\u200d\u{1f467} \u2764\ufe0f', '\u{1f468}\u200d\u{1f469}\u200d\u{1f467} \u2764\ufe0f'],
])('%j is shown as %j', (text, expected) => {
  expect(shown(text)).toBe(expected);
});

test('what must stay one line does', () => {
  expect(shownInLine('yes\r\n2026-01-01 senior closed\u2028it\u0085')).toBe('yes 2026-01-01 senior closed it');
});

test('any text: no control but the line break, nothing that turns a line', () => {
  const { numRuns, seed } = runs(2000);
  fc.assert(
    fc.property(fc.string({ unit: 'binary', maxLength: 200 }), (text) => {
      expect(shown(text).replaceAll('\n', '')).not.toMatch(/\p{Cc}|\p{Cs}|[\u200b\u202a-\u202e\u2066-\u2069]/u);
      expect(shownInLine(text)).not.toContain('\n');
      expect(shown(shown(text))).toBe(shown(text));
    }),
    { numRuns, seed },
  );
  tried('texts to be shown', numRuns);
});

test('a plain terminal gets neither an escape sequence of a reply nor one of a choice', async () => {
  const output = new PassThrough();
  const input = new PassThrough();
  const screen = plainScreen(input, output);
  input.end('1\n');
  screen.show('hello \u001b[2J\u001b]52;c;YQ==\u0007');
  await screen.ask([{ value: 'a', label: 'one\u001b[1A\n  2. forged' }]);
  screen.close();
  const written = String(output.read());
  expect(written).toBe('hello [2J]52;c;YQ==\n  1. one[1A   2. forged\n\n');
});
