/** The JSON-lines channel as a victim: a real process of the built program. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { messageOf } from './talk.js';
import type { Alive, Message, Victim } from './victim.js';

const lineOf = ({ id, conversation, from, said }: Message): string =>
  `${JSON.stringify({ case: conversation, id, from, ...said })}\n`;

/** @param main the built program; @param cache where it keeps the parsed knowledge */
export function stdioVictim(main: string, cache: string): Victim {
  return {
    shown: (stored) => stored,
    startMs: 400,
    pairs: true,
    messageOf,
    start: (folder): Alive => {
      const child = spawn(process.execPath, [main, 'stdio', '--db', join(folder, 'cases.db')], {
        env: { PATH: process.env['PATH'] ?? '', HOME: folder, XDG_CACHE_HOME: cache },
        stdio: ['pipe', 'pipe', 'inherit'],
      });
      child.stdin.on('error', () => undefined);
      const asked: ((answer: string | null) => void)[] = [];
      let over = false;
      createInterface({ input: child.stdout }).on('line', (line) => asked.shift()?.(line));
      const gone = once(child, 'close').then(() => {
        over = true;
        for (const give of asked.splice(0)) give(null);
      });
      return {
        say: (message) =>
          new Promise((give) => {
            if (over) return give(null);
            asked.push(give);
            child.stdin.write(lineOf(message));
          }),
        kill: async () => {
          child.kill('SIGKILL');
          await gone;
        },
        end: async () => {
          child.stdin.end();
          await gone;
        },
      };
    },
  };
}
