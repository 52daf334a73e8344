/** The program as a process: 200 talks at once, what memory it takes at rest, and with 10,000 open cases in its store. */
import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import type { Knowledge } from '../../src/knowledge/facts.js';
import type { Said } from '../../src/message/incoming.js';
import { fillStore } from './filled-store.js';
import { messagesOf } from './talks.js';

const TALKS = 200;
const ROUNDS = 5;
export const OPEN_CASES = 10_000;

export interface UnderLoad {
  /** from the moment when all 200 have spoken to each answer, in ms */
  readonly waits: number[];
  readonly answersASecond: number;
}

/** Megabytes that a process holds in memory; null where the system does not tell. */
export interface Memory {
  readonly empty: number | null;
  readonly rest: number | null;
  readonly open: number | null;
  /** how many of the open cases were spoken in before it was measured */
  readonly spoken: number;
}

/** `thawline stdio`, asked in lines and answering in order. */
function program(main: string, folder: string, db: string) {
  const child = spawn(process.execPath, [main, 'stdio', '--db', join(folder, db)], {
    env: { PATH: process.env['PATH'] ?? '', HOME: folder, XDG_CACHE_HOME: folder },
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  const asked: ((line: string) => void)[] = [];
  createInterface({ input: child.stdout }).on('line', (line) => asked.shift()?.(line));
  return {
    child,
    say: (message: unknown): Promise<string> => {
      child.stdin.write(`${JSON.stringify(message)}\n`);
      return new Promise((give) => asked.push(give));
    },
    end: async (): Promise<void> => {
      child.stdin.end();
      await once(child, 'close');
    },
  };
}

export async function timeManyAtOnce(main: string, folder: string): Promise<UnderLoad> {
  const { say, end } = program(main, folder, 'many.db');
  await say({ case: 'first', from: { id: 'u', role: 'homeowner' }, text: 'frost' });
  const waits: number[] = [];
  let spent = 0;
  for (let round = 0; round < ROUNDS; round += 1) {
    const lines = Array.from({ length: TALKS }, (_, talk) => lineOf(talk, round));
    const start = performance.now();
    await Promise.all(
      lines.map(async (line) => {
        await say(line);
        waits.push(performance.now() - start);
      }),
    );
    spent += performance.now() - start;
  }
  await end();
  return { waits, answersASecond: (TALKS * ROUNDS * 1000) / spent };
}

/** @param spoken how many of the 10,000 open cases are spoken in before the memory is read */
export async function measureMemory(
  knowledge: Knowledge,
  main: string,
  folder: string,
  spoken: number,
): Promise<Memory> {
  const idle = spawn(process.execPath, ['-e', 'setInterval(() => undefined, 1000)'], { stdio: 'ignore' });
  await new Promise((resolve) => setTimeout(resolve, 500));
  const empty = memoryOf(idle);
  idle.kill();

  const alone = program(main, folder, 'rest.db');
  for (let n = 0; n < 10; n += 1) await alone.say(lineOf(0, n));
  const rest = memoryOf(alone.child);
  await alone.end();

  fillStore(knowledge, join(folder, 'open.db'), OPEN_CASES, 'open', 'stdio');
  const among = program(main, folder, 'open.db');
  for (let n = 0; n < spoken; n += 1)
    await among.say({ ...lineOf(n, 3), case: `k${String(n).padStart(7, '0')}`, id: 'x1' });
  const open = memoryOf(among.child);
  await among.end();
  return { empty, rest, open, spoken };
}

/** What talk number `talk` says in its n-th message, as a line of the front end. */
function lineOf(talk: number, n: number): object {
  const message = messagesOf(talk)[n];
  if (!message) throw new Error('a talk has ten messages');
  return { case: `c${talk}`, id: `m${n}`, from: { id: `u${talk}`, role: message.role }, ...saidIn(message.said) };
}

function saidIn(said: Said): object {
  if (said.kind === 'text') return { text: said.text };
  if (said.kind === 'answer') return { answer: { finding: said.finding, value: said.value } };
  if (said.kind === 'reading') return { reading: said.reading };
  throw new Error(`no line is made of ${said.kind}`);
}

function memoryOf({ pid }: ChildProcess): number | null {
  const path = `/proc/${pid}/status`;
  if (!existsSync(path)) return null;
  const kb = /^VmRSS:\s+(\d+) kB$/m.exec(readFileSync(path, 'utf8'))?.[1];
  return kb === undefined ? null : Number(kb) / 1024;
}
