import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { tag, trusted, words } from '../../src/handoff/markup.js';

test('words are escaped wherever they come in', () => {
  expect(tag('p', { title: '"><script>' }, '<b>&"', trusted('<i>x</i>')).html).toBe(
    '<p title="&quot;&gt;&lt;script&gt;">&lt;b&gt;&amp;&quot;<i>x</i></p>',
  );
  expect(tag('ul', {}, [tag('li', {}, 'one'), null, tag('li', {}, 'two')]).html).toBe(
    '<ul><li>one</li><li>two</li></ul>',
  );
});

// Unicode Standard Annex 9, table 4: the directional formatting characters; and the zero-width ones of the same kind.
test('signs that turn a line round or hide are left out', () => {
  const unseen =
    '\u202a \u202b \u202c \u202d \u202e \u2066 \u2067 \u2068 \u2069 \u200e \u200f \u061c \u200b \u2060 \ufeff \u00ad';
  for (const sign of unseen.split(' ')) expect(words(`a${sign}b`).html).toBe('ab');
});

test('whatever is written, no tag and no attribute comes of it', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme' }), (text) => {
      const { html } = tag('p', { title: text }, text);
      expect(html).toMatch(/^<p title="[^"<>]*">[^<>]*<\/p>$/);
      expect(html.replaceAll(/&(?:amp|lt|gt|quot);/g, '')).not.toContain('&');
    }),
  );
});
