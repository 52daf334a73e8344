/** `thawline study` as a shell runs it: figures, progress, a chart, and one clear line for what is wrong. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { newFolder, run } from './program.js';

describe('thawline study', () => {
  it('prints its figures, tells on standard error how far it is, and draws the chart', async () => {
    const chart = join(newFolder(), 'chart.svg');
    const { code, out, err } = await run(['study', '--cases', '2', '--seed', '3', '--chart', chart]);
    expect(code).toBe(0);
    for (const words of [
      'seed 3',
      '8 causes',
      'plain printed checklist',
      'Brier',
      'needless visits',
      '0 did not stop the talk',
    ])
      expect(out).toContain(words);
    expect(err).toMatch(/^(study: \d+ %\n)+$/);
    expect(readFileSync(chart, 'utf8')).toContain('plain printed checklist');
  }, 300_000);

  it.each([
    [['--cases', '0'], '--cases: a whole number from 1 to 20000'],
    [['--seed', 'x'], '--seed: a whole number'],
    [['--chart', 'chart.txt'], 'end it with .svg or .png'],
    [['--what'], 'what'],
  ])('refuses %j in one line', async (args, words) => {
    const { code, out, err } = await run(['study', ...args]);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err.trim().split('\n')).toHaveLength(1);
    expect(err).toContain(words);
    expect(existsSync('chart.txt')).toBe(false);
  });
});
