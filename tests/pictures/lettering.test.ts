import { describe, expect, test } from 'vitest';
import { estimatedWidth, wrapped } from '../../src/pictures/lettering.js';
import { letters } from '../../src/pictures/svg.js';
import { box } from './drawn.js';

const samples = [
  'Which number looks like your frost?',
  'On the back wall of the fridge part',
  'All over: walls, shelves, packages',
  '22.1 kΩ at −40 °F: does not tell yet',
  'ILLUMINATING WWW MMM iiijjjlll',
  '“It’s 5,400 Ω ± 2 %” – said the sheet (p. 5)…',
  'ABCDEFGHIJKLMNOPQRSTUVWXYZ',
  'abcdefghijklmnopqrstuvwxyz',
  '0123456789 !"#$%&\'()*+,-./:;<=>?@[\\]^_`{|}~',
];

// The font itself is the reference: the box of its ink as the renderer measures it.
const measured = (words: string, bold: boolean): number =>
  box(
    `<svg xmlns="http://www.w3.org/2000/svg" width="2000" height="50">${letters(words, { x: 10, y: 30 }, { size: 20, fill: '#000000', bold })}</svg>`,
  ).width;

describe.each([false, true])('bold: %s', (bold) => {
  test.each(samples)('%s: never wider than estimated, and not much narrower', (words) => {
    const width = measured(words, bold);
    const estimate = estimatedWidth(words, 20, bold);
    expect(estimate).toBeGreaterThanOrEqual(width);
    expect(estimate).toBeLessThan(width * 1.12);
  });
});

test('words are wrapped within the width, in order, and a word too long is broken', () => {
  const text = 'On the back wall of the fridge part and unpronounceablyoverlongcompartmentwalls too';
  const lines = wrapped(text, 150, 15);
  expect(lines.length).toBeGreaterThan(4);
  for (const line of lines) expect(estimatedWidth(line, 15)).toBeLessThanOrEqual(150);
  expect(lines.join('').replaceAll(' ', '')).toBe(text.replaceAll(' ', ''));
  expect(wrapped('short words', 400, 15)).toEqual(['short words']);
  expect(wrapped('  ', 400, 15)).toEqual([]);
});
