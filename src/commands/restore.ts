/** `thawline restore FILE`: a backup in the place of the store. */
import { existsSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { restore } from '../store/backup.js';
import { UsageProblem } from './problem.js';
import { readSettings } from './settings.js';

export const help = `thawline restore FILE [--db FILE]
  Puts a backup in the place of the store, once it is checked and no other program has the store open. What the store
  held is gone then: back it up first if it can be read. FILE stays as it is.`;

export async function run(args: string[]): Promise<number> {
  const { values, positionals } = parseArgs({ args, options: { db: { type: 'string' } }, allowPositionals: true });
  const [file] = positionals;
  if (!file || positionals.length > 1) throw new UsageProblem('name one backup: thawline restore FILE');
  if (!existsSync(file)) throw new UsageProblem(`there is no backup at ${file}`);
  const { db } = readSettings(values.db);
  const { cases, messages } = restore(file, db);
  process.stdout.write(`${db}: ${cases} cases, ${messages} messages, as in ${file}\n`);
  return 0;
}
