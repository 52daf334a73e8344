/** The commands by name. Each is loaded only when it is called, so that every start stays fast. */
import { shown } from '../message/shown.js';
import { UsageProblem } from './problem.js';

interface Command {
  readonly help: string;
  readonly run: (args: string[]) => Promise<number>;
}

const COMMANDS: Readonly<Record<string, { readonly line: string; readonly load: () => Promise<Command> }>> = {
  chat: { line: 'the talk in the terminal', load: () => import('./chat.js') },
  serve: { line: 'the Discord bot; --check verifies settings and permissions', load: () => import('./serve.js') },
  stdio: { line: 'the talk as JSON lines', load: () => import('./stdio.js') },
  replay: { line: 'plays demo transcripts and checks what they expect', load: () => import('./replay.js') },
  reading: { line: 'judges one reading, or says what to expect of it', load: () => import('./reading.js') },
  desk: {
    line: "the senior technician's worklist: claim, ask, hand back, clear, close",
    load: () => import('./desk.js'),
  },
  report: { line: 'outcomes so far', load: () => import('./report.js') },
  study: { line: 'how near its choice of questions comes to the best possible', load: () => import('./study.js') },
  knowledge: { line: 'checks the knowledge folder', load: () => import('./knowledge.js') },
  export: { line: 'everything kept of one case', load: () => import('./export.js') },
  backup: { line: 'a copy of the store, while others write to it', load: () => import('./backup.js') },
  restore: { line: 'a backup in the place of the store', load: () => import('./restore.js') },
  erase: { line: 'takes a person out of every case', load: () => import('./erase.js') },
  schema: { line: 'the JSON Schemas', load: () => import('./schema.js') },
};

const HELP = `thawline: finds out with you why a freezer is full of frost
${Object.entries(COMMANDS)
  .map(([name, { line }]) => `  thawline ${name.padEnd(10)} ${line}`)
  .join('\n')}
Without a word: the talk in the terminal, or the Discord bot where DISCORD_TOKEN is set. "thawline COMMAND --help" says more.
`;

/** Exit code of a command: 0 success; 2 usage, settings or knowledge; 1 everything else. */
export async function runCommand(args: string[]): Promise<number> {
  const [word, ...rest] = args;
  if (word === '--help' || word === '-h' || word === 'help') {
    process.stdout.write(HELP);
    return 0;
  }
  try {
    const name = word === undefined || word.startsWith('-') ? await unnamed() : word;
    const found = COMMANDS[name];
    if (!found) throw new UsageProblem(`"${name}" is no command. Commands: ${Object.keys(COMMANDS).join(', ')}.`);
    const command = await found.load();
    const own = name === word ? rest : args;
    if (own.includes('--help') || own.includes('-h')) {
      process.stdout.write(`${command.help}\n`);
      return 0;
    }
    return await command.run(own);
  } catch (error) {
    return report(error);
  }
}

/** What runs without a word. */
async function unnamed(): Promise<'chat' | 'serve'> {
  const { readSettings } = await import('./settings.js');
  return readSettings().discord.token === null ? 'chat' : 'serve';
}

function report(error: unknown): number {
  const code = (error as { code?: unknown }).code;
  const usage = error instanceof UsageProblem || (typeof code === 'string' && code.startsWith('ERR_PARSE_ARGS'));
  const plain = usage || (error instanceof Error && error.constructor.name === 'StoreProblem');
  const text =
    error instanceof Error ? (plain ? error.message.split('\n')[0] : (error.stack ?? error.message)) : String(error);
  process.stderr.write(`thawline: ${shown(text ?? '')}\n`);
  return usage ? 2 : 1;
}
