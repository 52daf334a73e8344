/** `thawline erase PERSON`: takes a person out of every case, for good. */
import { parseArgs } from 'node:util';
import { erasePerson } from '../conversation/erase.js';
import { say } from '../reply/say.js';
import { requireStore } from '../store/open.js';
import { occurrences } from '../store/search.js';
import { UsageProblem } from './problem.js';
import { wire } from './parts.js';
import { readSettings } from './settings.js';

export const help = `thawline erase PERSON [--db FILE]
  Takes a person out of every case, for good: their id or name, what they wrote, what was said back to them, their
  pages and pictures, what waits to be delivered. What was found stays, without anybody. PERSON: the id that the front
  end gave, the name given at the desk; "terminal" is whoever spoke on this terminal.`;

export async function run(args: string[]): Promise<number> {
  const { values, positionals } = parseArgs({ args, options: { db: { type: 'string' } }, allowPositionals: true });
  const [person] = positionals;
  if (!person || positionals.length > 1)
    throw new UsageProblem('name one person, as the case knows them: thawline erase PERSON');
  const settings = readSettings(values.db);
  requireStore(settings.db);
  const { knowledge, store, conversations, files } = wire(settings, 'erase');
  const words = (key: string, slots = {}): string => say(knowledge, 'technician', key, slots);
  try {
    const cases = erasePerson(knowledge, store, person, { now: new Date(), forget: files.forget });
    if (cases.length === 0) throw new UsageProblem(words('data.nobody', { name: person }));
    const channels = new Set(cases.map((caseId) => store.channelOf(caseId)).filter((c) => c !== null));
    for (const channel of channels) conversations.deliver(channel);
    const swept = store.sweep(true);
    const n = occurrences(settings.db, person);
    const proof = words(n === 0 ? 'data.searched' : 'data.still-named', { name: person, n });
    process.stdout.write(`${words('data.erased', { n: cases.length })}\n${proof}\n${words('data.older-backups')}\n`);
    if (swept) return 0;
    process.stderr.write(`thawline: ${words('data.held')}\n`);
    return 1;
  } finally {
    store.close();
  }
}
