import { expect, test } from 'vitest';
import { learn, type Learned, type Lesson } from '../../src/safety/learn.js';

const lessons: Lesson[] = Array.from({ length: 40 }, (_, i) => [
  { signs: ['smoke', 'back', `w${i % 7}`], tells: [0] },
  { signs: ['wet', 'plug', `w${i % 5}`], tells: [1] },
  { signs: ['frost', 'back', `w${i % 3}`], tells: [] },
]).flat();

/** The column with the greatest sum of a text's weights. */
function tells({ signs, worth, weights, bias, scale }: Learned, text: readonly string[]): number {
  const sums = bias.map((b, c) =>
    text.reduce((sum, s) => {
      const i = signs.indexOf(s);
      return i < 0 ? sum : sum + ((weights[i * bias.length + c] ?? 0) / scale) * (worth[i] ?? 0);
    }, b),
  );
  return sums.indexOf(Math.max(...sums));
}

test('what was learnt tells lessons of one danger from those of another and of none', () => {
  const learned = learn(lessons, 2);
  expect(tells(learned, ['smoke', 'back'])).toBe(0);
  expect(tells(learned, ['plug', 'wet'])).toBe(1);
  expect(tells(learned, ['frost', 'back'])).toBe(2);
});

test('the same lessons give the same weights; a sign met once is left out', () => {
  const once: Lesson[] = [...lessons, { signs: ['unheard-of', 'frost'], tells: [] }];
  expect(learn(once, 2)).toEqual(learn(once, 2));
  expect(learn(once, 2).signs).not.toContain('unheard-of');
});

test('nothing to learn from is no error', () => {
  expect(learn([], 2)).toMatchObject({ signs: [], scale: 1 });
});
