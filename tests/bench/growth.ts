/**
 * The same talks on stores that hold little and much: 100, 10,000 and, where it is asked for, 1,000,000 messages. They
 * take turns, talk by talk, so that all meet the same machine in the same moments.
 */
import { rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { Knowledge } from '../../src/knowledge/facts.js';
import { fillStore, MESSAGES } from './filled-store.js';
import { figuresOf, timed, type Figures } from './samples.js';
import { openTalker } from './talks.js';

const TALKS = 40;
const WARM_UP = 4;

export interface Grown {
  readonly messages: number;
  /** of the file, in bytes, and how long it took to fill it, in ms */
  readonly bytes: number;
  readonly fillMs: number;
  readonly bare: Figures;
  readonly store: Figures;
  readonly insert: Figures;
}

export function timeGrowth(knowledge: Knowledge, folder: string, sizes: readonly number[]): Grown[] {
  const filled = sizes.map((messages) => {
    const path = join(folder, `holds-${messages}.db`);
    const cases = Math.round(messages / MESSAGES.over);
    const { ms: fillMs } = timed(() => fillStore(knowledge, path, cases, 'over', 'bench'));
    return { messages, path, fillMs, bytes: statSync(path).size };
  });
  const talkers = filled.map(({ path, messages }) =>
    openTalker(knowledge, path, join(folder, `beside-${messages}.db`)),
  );
  for (let n = 0; n < TALKS + WARM_UP; n += 1) for (const talker of talkers) talker.talk(n, n >= WARM_UP);
  return filled.map(({ messages, path, bytes, fillMs }, i) => {
    const talker = talkers[i];
    if (!talker) throw new Error('each store has its talker');
    talker.close();
    rmSync(path);
    const { bare, store, insert } = talker.times;
    return { messages, bytes, fillMs, bare: figuresOf(bare), store: figuresOf(store), insert: figuresOf(insert) };
  });
}
