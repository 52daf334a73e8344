/** `thawline export CASE`: everything kept of one case, as a readable talk or as JSON. */
import { parseArgs } from 'node:util';
import { openStore, type KeptMessage } from '../store/store.js';
import { UsageProblem } from './problem.js';
import { readSettings } from './settings.js';

export const help = `thawline export CASE [--json] [--db FILE]
  The whole talk of one case, by its take-up code.`;

export async function run(args: string[]): Promise<number> {
  const { values, positionals } = parseArgs({
    args,
    options: { json: { type: 'boolean' }, db: { type: 'string' } },
    allowPositionals: true,
  });
  const [caseId] = positionals;
  if (!caseId || positionals.length > 1) throw new UsageProblem('name one case: thawline export CASE');
  const store = openStore(readSettings(values.db).db);
  try {
    const id = caseId.toUpperCase();
    const state = store.load(id);
    if (!state) throw new UsageProblem(`no case has the code ${caseId}`);
    const messages = store.messages(id);
    if (values.json) process.stdout.write(`${JSON.stringify({ caseId: id, state, messages }, null, 2)}\n`);
    else process.stdout.write(`${[`Case ${id}, opened ${state.openedAt}`, ...messages.map(talk)].join('\n\n')}\n`);
    return 0;
  } finally {
    store.close();
  }
}

function talk(m: KeptMessage): string {
  const said =
    m.said === null
      ? '(erased)'
      : m.said.kind === 'text'
        ? m.said.text
        : m.said.kind === 'answer'
          ? `${m.said.finding}: ${[m.said.value].flat().join(', ')}`
          : m.said.kind === 'reading'
            ? JSON.stringify(m.said.reading)
            : '(asked for news)';
  const who = `${m.at}  ${m.role}${m.person ? ` ${m.person}` : ''}`;
  return m.answer ? `${who}\n> ${said.replaceAll('\n', '\n> ')}\n\n${m.answer.reply}` : `${who}\n> ${said}`;
}
