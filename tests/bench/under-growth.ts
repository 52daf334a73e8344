/** What much data, a long case and many people at once cost, as lines of the table; and the machine it was measured on. */
import { arch, cpus, loadavg, totalmem } from 'node:os';
import type { Knowledge } from '../../src/knowledge/facts.js';
import { timeGrowth } from './growth.js';
import { measureMemory, OPEN_CASES, timeManyAtOnce } from './process-under-load.js';
import { timeResume } from './resume.js';
import { figuresOf, type Figures } from './samples.js';

/** Not times: megabytes, messages a second. */
export type Amounts = Readonly<Record<string, number | null>>;

export interface UnderGrowth {
  readonly figures: Readonly<Record<string, Figures>>;
  readonly amounts: Amounts;
  /** against 100 messages, by how many are stored */
  readonly grown: readonly { readonly messages: number; readonly ratio: number }[];
  readonly memoryAtRest: number | null;
}

/** @param large with a million messages, and a word in each of the open cases: minutes, and 10 GB of disk */
export async function measureUnderGrowth(
  knowledge: Knowledge,
  main: string,
  folder: string,
  large: boolean,
): Promise<UnderGrowth> {
  const sizes = [100, 10_000, ...(large ? [1_000_000] : [])];
  const grown = timeGrowth(knowledge, folder, sizes);
  const resumed = timeResume(knowledge, folder);
  const many = await timeManyAtOnce(main, folder);
  const memory = await measureMemory(knowledge, main, folder, large ? OPEN_CASES : 500);
  const count = (n: number): string => n.toLocaleString('en');
  const ofEach = (name: string, of: 'bare' | 'store' | 'insert'): [string, Figures][] =>
    grown.map((g) => [`${name}, ${count(g.messages)} stored`, g[of]]);
  const first = grown[0]?.bare.median ?? NaN;
  return {
    figures: Object.fromEntries([
      ...ofEach('turn without u. and p.', 'bare'),
      ...ofEach('  of it in the store', 'store'),
      ...ofEach('  bare insert beside', 'insert'),
      ['a case of 200 messages taken up, to its answer', figuresOf(resumed.long)],
      ['  the same of 10 messages', figuresOf(resumed.short)],
      ['  state of 200 messages folded from its events', figuresOf(resumed.folded)],
      ['200 talks at once, until each is answered', figuresOf(many.waits)],
    ]),
    amounts: {
      'answers a second, 200 talks at once': many.answersASecond,
      'memory of an empty Node process, MB': memory.empty,
      'memory at rest after a talk, MB': memory.rest,
      [`memory, ${count(OPEN_CASES)} open cases, ${count(memory.spoken)} spoken in, MB`]: memory.open,
      ...Object.fromEntries(
        grown.flatMap((g) => [
          [`file of ${count(g.messages)} messages, MB`, g.bytes / 1e6],
          [`  seconds to fill ${count(g.messages)}`, g.fillMs / 1000],
        ]),
      ),
    },
    grown: grown.map(({ messages, bare }) => ({ messages, ratio: bare.median / first })),
    memoryAtRest: memory.rest,
  };
}

export function machine(): string {
  const gb = (totalmem() / 2 ** 30).toFixed(0);
  const load = loadavg().map((l) => l.toFixed(1));
  return `${cpus().length} cores (${cpus()[0]?.model.trim() ?? arch()}), ${gb} GB, Node ${process.version}, load ${load.join(' ')}`;
}

export const amountsTable = (amounts: Amounts): string =>
  Object.entries(amounts)
    .map(([name, n]) => `${name.padEnd(62)}${(n === null ? 'not told' : n.toFixed(1)).padStart(12)}`)
    .join('\n');
