/** `thawline export CASE`: everything kept of one case, as a readable talk or as JSON. */
import { parseArgs } from 'node:util';
import { shown } from '../message/shown.js';
import { requireStore } from '../store/open.js';
import { exported, exportToRead } from './exported.js';
import { UsageProblem } from './problem.js';
import { wire } from './parts.js';
import { readSettings } from './settings.js';

export const help = `thawline export CASE [--json] [--db FILE]
  Everything that is kept of one case, by its take-up code: messages and answers, facts, readings, photo references,
  what the desk did, what the case asked by itself, which files stand beside the store. --json leaves nothing out.`;

export async function run(args: string[]): Promise<number> {
  const { values, positionals } = parseArgs({
    args,
    options: { json: { type: 'boolean' }, db: { type: 'string' } },
    allowPositionals: true,
  });
  const [caseId] = positionals;
  if (!caseId || positionals.length > 1) throw new UsageProblem('name one case: thawline export CASE');
  const settings = readSettings(values.db);
  requireStore(settings.db);
  const parts = wire(settings, 'export');
  try {
    const all = exported(parts, caseId.toUpperCase());
    if (!all) throw new UsageProblem(`no case has the code ${caseId}`);
    process.stdout.write(values.json ? `${JSON.stringify(all, null, 2)}\n` : shown(exportToRead(parts.knowledge, all)));
    return 0;
  } finally {
    parts.store.close();
  }
}
