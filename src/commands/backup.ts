/** `thawline backup FILE`: one moment of the store as a file of its own, while others go on writing. */
import { existsSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { backUp } from '../store/backup.js';
import { UsageProblem } from './problem.js';
import { readSettings } from './settings.js';

export const help = `thawline backup FILE [--replace] [--db FILE]
  A checked copy of the whole store, while talks go on. An existing FILE is kept unless --replace is given. Pages and
  pictures beside the store are not part of it. "thawline restore FILE" puts it back.`;

export async function run(args: string[]): Promise<number> {
  const { values, positionals } = parseArgs({
    args,
    options: { replace: { type: 'boolean' }, db: { type: 'string' } },
    allowPositionals: true,
  });
  const [file] = positionals;
  if (!file || positionals.length > 1) throw new UsageProblem('name one file: thawline backup FILE');
  if (existsSync(file) && !values.replace)
    throw new UsageProblem(`${file} is there already: name another file, or add --replace`);
  const { cases, messages } = backUp(readSettings(values.db).db, file);
  process.stdout.write(`${file}: ${cases} cases, ${messages} messages, checked\n`);
  return 0;
}
