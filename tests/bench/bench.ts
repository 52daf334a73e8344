/**
 * `npm run bench [-- --json] [--growth]`: how long things take on this machine, median and 99th percentile, and the ratios
 * that the project aims at, all from one run. It asserts nothing: a figure is for reading, not for passing. `--growth`
 * adds a store of a million messages (10 GB in .bench for some minutes) and a word in each of 10,000 open cases.
 */
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { newCase } from '../../src/case/state.js';
import { hashOf, readFolders } from '../../src/knowledge/files.js';
import { loadKnowledge } from '../../src/knowledge/load.js';
import { accept } from '../../src/readings/accept.js';
import { judge } from '../../src/readings/judge.js';
import { batched, figuresOf, type Figures } from './samples.js';
import { timeStarts } from './starts.js';
import { TEXTS, timeTalks } from './talks.js';
import { amountsTable, machine, measureUnderGrowth, type Amounts } from './under-growth.js';
import { timeTaps } from './taps.js';

const TALKS = 80;
const WARM_UP = 15;
const STARTS = 7;

const root = fileURLToPath(new URL('../../../', import.meta.url));
const main = join(root, 'dist', 'program', 'main.js');
if (!existsSync(main)) throw new Error('build first: npm run build');
const texts = readFolders(join(root, 'knowledge'), null);
const loaded = loadKnowledge(texts, hashOf(texts, 'bench'));
if (!loaded.ok) throw new Error(`the knowledge folder has ${loaded.mistakes.length} mistakes: thawline knowledge`);
const { knowledge } = loaded;

// on the disk of the checkout: a folder for temporary files may lie in memory, where a durable insert costs nothing
const folder = mkdtempSync(join(root, '.bench', 'run-'));
try {
  const starts = await timeStarts(main, folder, TEXTS[0] ?? '', STARTS);
  const taps = await timeTaps(knowledge, main, folder);
  const talks = timeTalks(knowledge, folder, TALKS, WARM_UP);
  const grown = await measureUnderGrowth(knowledge, main, folder, process.argv.includes('--growth'));
  const figures: Record<string, Figures> = {
    'bare durable insert': figuresOf(talks.insert),
    'turn without understanding and planning': figuresOf(talks.bare),
    '  the same, of 20 words': figuresOf(talks.bareText),
    '  of it in the store': figuresOf(talks.store),
    'whole turn, 20 words': figuresOf(talks.text),
    'whole turn, an answer or a reading': figuresOf(talks.tap),
    'understanding 20 words': figuresOf(talks.understanding),
    'belief and next step': figuresOf(talks.planning),
    ...judging(),
    'empty Node process': figuresOf(starts.empty),
    'start to the first prompt': figuresOf(starts.prompt),
    'start to the first answer to 20 words': figuresOf(starts.answer),
    ...grown.figures,
    ...taps.figures,
  };
  const median = (name: string): number => figures[name]?.median ?? NaN;
  const p99 = (name: string): number => figures[name]?.p99 ?? NaN;
  const aims = [
    aim(
      'turn without understanding and planning / insert, median',
      median('turn without understanding and planning') / median('bare durable insert'),
      6,
    ),
    aim(
      'turn without understanding and planning / insert, p99',
      p99('turn without understanding and planning') / p99('bare durable insert'),
      10,
    ),
    aim('whole turn of 20 words, median, ms', median('whole turn, 20 words'), 8),
    aim('understanding 20 words, median, ms', median('understanding 20 words'), 1),
    aim('belief and next step, median, ms', median('belief and next step'), 5),
    aim('belief and next step, p99, ms', p99('belief and next step'), 12),
    aim('start to the first prompt, median, ms', median('start to the first prompt'), 250),
    aim(
      'start to the first prompt / empty Node process, median',
      median('start to the first prompt') / median('empty Node process'),
      5,
    ),
    aim(
      'one judged reading / bare function call, median',
      median('one judged reading') / median('bare function call'),
      null,
    ),
    ...grown.grown
      .slice(1)
      .map(({ messages, ratio }) =>
        aim(`the same turn with ${messages} messages stored / with 100, median`, ratio, 1.2),
      ),
    ...(grown.memoryAtRest === null ? [] : [aim('memory at rest, MB', grown.memoryAtRest, 130)]),
    ...taps.aims,
  ];
  const { amounts } = grown;
  process.stdout.write(
    process.argv.includes('--json')
      ? `${JSON.stringify({ machine: machine(), figures, amounts, aims }, null, 2)}\n`
      : table(figures, amounts, aims),
  );
} finally {
  rmSync(folder, { recursive: true, force: true });
}

/** A sensor's resistance judged in a case, and a call of a function that gives back what it got. */
function judging(): Record<string, Figures> {
  const stated = { part: 'defrost-sensor', quantity: 'resistance', value: 5.4, unit: 'kohm', atC: 22.8 } as const;
  const accepted = accept(knowledge, stated);
  if (!accepted.ok) throw new Error(accepted.message);
  const measured = { ...accepted.measurement, at: '2026-03-02T18:30:00Z', by: 'u1' };
  const state = newCase(measured.at, 'technician');
  const calls: unknown[] = [];
  const bare = (...args: unknown[]): unknown => {
    calls[0] = args[2];
    return args;
  };
  const judged = (): unknown => judge(knowledge, state, measured, [], 'technician');
  const called = (): unknown => bare(knowledge, state, measured, [], 'technician');
  batched(judged, 50, 100);
  batched(called, 50, 1000);
  return {
    'one judged reading': figuresOf(batched(judged, 200, 50)),
    'bare function call': figuresOf(batched(called, 200, 10_000)),
  };
}

interface Aim {
  readonly what: string;
  readonly value: number;
  readonly most: number | null;
}

function aim(what: string, value: number, most: number | null): Aim {
  return { what, value, most };
}

function table(figures: Readonly<Record<string, Figures>>, amounts: Amounts, aims: readonly Aim[]): string {
  const ms = (value: number): string => (value < 0.01 ? value.toFixed(6) : value.toFixed(3)).padStart(12);
  const rows = Object.entries(figures).map(
    ([name, f]) => `${name.padEnd(50)}${ms(f.median)}${ms(f.p99)}${String(f.n).padStart(8)}`,
  );
  const lines = aims.map(
    (a) =>
      `${a.what.padEnd(62)}${a.value.toFixed(2).padStart(10)}${a.most === null ? '' : `   aim: ${a.most} at most`}`,
  );
  return [
    machine(),
    `${'milliseconds'.padEnd(50)}${'median'.padStart(12)}${'p99'.padStart(12)}${'n'.padStart(8)}`,
    ...rows,
    '',
    amountsTable(amounts),
    '',
    ...lines,
    '',
  ].join('\n');
}
