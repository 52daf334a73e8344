/** `thawline stdio`: the JSON-lines channel on standard input and output. */
import { once } from 'node:events';
import { parseArgs } from 'node:util';
import { runStdio } from '../channels/stdio.js';
import { wire } from './parts.js';
import { keepNoLonger } from './retention.js';
import { readSettings } from './settings.js';

export const help = `thawline stdio [--db FILE]
  One JSON object a line in, exactly one a line out, in order. "thawline schema" prints their shapes.`;

export async function run(args: string[]): Promise<number> {
  const { values } = parseArgs({ args, options: { db: { type: 'string' } } });
  const settings = readSettings(values.db);
  const parts = wire(settings, 'stdio');
  const { conversations, store } = parts;
  keepNoLonger(parts, settings.keepDays);
  conversations.deliver();
  const write = async (line: string): Promise<void> => {
    if (!process.stdout.write(line)) await once(process.stdout, 'drain');
  };
  try {
    const finished = await runStdio(
      process.stdin,
      write,
      (incoming) => conversations.handle(incoming),
      (error) => {
        const message = error instanceof Error ? error.message : String(error);
        process.stderr.write(`${message}\n`);
        return message;
      },
    );
    return finished ? 0 : 1;
  } finally {
    store.close();
  }
}
