/**
 * Runs the built program as a person's shell would: a process of its own, in a temporary folder, with an environment
 * that holds nothing but what a test puts there. The cache of the knowledge folder is shared by all test files.
 */
import { spawn, type ChildProcessWithoutNullStreams } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { afterAll } from 'vitest';

export const MAIN = fileURLToPath(new URL('../../dist/program/main.js', import.meta.url));

/** The cache of the knowledge folder, for all test files of one build. */
export const CACHE = join(tmpdir(), `thawline-tests-${Math.round(statSync(MAIN).mtimeMs)}`);

const base = mkdtempSync(join(tmpdir(), 'thawline-process-'));
const running = new Set<ChildProcessWithoutNullStreams>();
let folders = 0;

afterAll(() => {
  for (const child of running) child.kill('SIGKILL');
  rmSync(base, { recursive: true, force: true });
});

/** A new, empty folder; gone when the test file ends. */
export function newFolder(): string {
  const path = join(base, String((folders += 1)));
  mkdirSync(path);
  return path;
}

/** The whole environment of the program. */
export const environment = (over: Readonly<Record<string, string>> = {}): Record<string, string> => ({
  PATH: process.env['PATH'] ?? '',
  HOME: base,
  // keyed by what the folder holds: the first process of all reads the whole knowledge folder, the others its cache
  XDG_CACHE_HOME: CACHE,
  ...over,
});

export interface Ended {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly out: string;
  readonly err: string;
}

export interface Running {
  readonly child: ChildProcessWithoutNullStreams;
  /** the next line of the output, or null at its end */
  readonly next: () => Promise<string | null>;
  readonly write: (line: string) => void;
  readonly ended: Promise<Ended>;
}

/** Starts `thawline` with these words, in a folder of its own unless one is named. */
export function start(
  args: readonly string[],
  options: {
    readonly env?: Readonly<Record<string, string>>;
    readonly cwd?: string;
    /** the user to run it as, where that is allowed */
    readonly uid?: number;
  } = {},
): Running {
  const child = spawn(process.execPath, [MAIN, ...args], {
    cwd: options.cwd ?? base,
    env: environment(options.env),
    stdio: 'pipe',
    ...(options.uid === undefined ? {} : { uid: options.uid, gid: options.uid }),
  });
  running.add(child);
  child.stdin.on('error', () => undefined);
  let out = '';
  let err = '';
  child.stdout.on('data', (chunk: Buffer) => (out += chunk.toString('utf8')));
  child.stderr.on('data', (chunk: Buffer) => (err += chunk.toString('utf8')));
  const lines = createInterface({ input: child.stdout })[Symbol.asyncIterator]();
  const ended = once(child, 'close').then(([code, signal]) => {
    running.delete(child);
    return { code: code as number | null, signal: signal as NodeJS.Signals | null, out, err };
  });
  return {
    child,
    next: async () => {
      const { value, done } = await lines.next();
      return done ? null : value;
    },
    write: (line) => void child.stdin.write(`${line}\n`),
    ended,
  };
}

/** Runs `thawline` to its end with this input. */
export async function run(
  args: readonly string[],
  input = '',
  options: Parameters<typeof start>[1] = {},
): Promise<Ended> {
  const { child, ended } = start(args, options);
  child.stdin.end(input);
  return ended;
}

/** Lines of JSON in, lines of JSON out. */
export const jsonLines = (lines: readonly unknown[]): string =>
  lines.map((l) => `${typeof l === 'string' ? l : JSON.stringify(l)}\n`).join('');

export const outLines = (out: string): string[] => (out === '' ? [] : out.replace(/\n$/, '').split('\n'));
