/** `thawline replay FILE...`: plays demo transcripts against a throw-away store and checks what they expect. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { parseArgs } from 'node:util';
import { play, type Played } from '../channels/replay.js';
import { transcript, type Transcript } from '../channels/transcript.js';
import { mistakeLine, type Mistake } from '../knowledge/mistake.js';
import { parseFile } from '../knowledge/parse.js';
import { UsageProblem } from './problem.js';
import { wire } from './parts.js';
import { readSettings } from './settings.js';

export const help = `thawline replay FILE... [--json] [--talk]
  Plays demo transcripts; exit code 1 when something came out otherwise. --talk prints the whole talk.`;

export async function run(args: string[]): Promise<number> {
  const { values, positionals } = parseArgs({
    args,
    options: { json: { type: 'boolean' }, talk: { type: 'boolean' } },
    allowPositionals: true,
  });
  if (positionals.length === 0)
    throw new UsageProblem('name one transcript or more: thawline replay demo-transcripts/*.yaml');
  const results = positionals.map((file) => ({ file, played: playFile(file) }));
  if (values.json)
    process.stdout.write(
      `${JSON.stringify(
        results.map(({ file, played }) => ({ file, ...played })),
        null,
        2,
      )}\n`,
    );
  else for (const { file, played } of results) process.stdout.write(shown(file, played, values.talk ?? false));
  return results.some((r) => r.played.failures.length > 0) ? 1 : 0;
}

function playFile(file: string): Played {
  const t = readTranscript(file);
  const folder = mkdtempSync(join(tmpdir(), 'thawline-replay-'));
  const settings = { ...readSettings(join(folder, 'cases.db')), contact: t.contact ?? null, units: null };
  const { conversations, store } = wire(settings, 'replay');
  try {
    return play(t, basename(file), (incoming) => conversations.handle(incoming));
  } finally {
    store.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

export function readTranscript(file: string): Transcript {
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch {
    throw new UsageProblem(`${file} cannot be read: name a transcript file`);
  }
  const mistakes: Mistake[] = [];
  const parsed = parseFile(file, text, transcript, mistakes);
  if (!parsed) throw new UsageProblem(mistakes.map(mistakeLine).join(' '));
  return parsed.data;
}

function shown(file: string, played: Played, talk: boolean): string {
  const head = `${played.failures.length === 0 ? 'as expected' : 'OTHERWISE  '}  ${file}  (${played.turns.length} turns, ${played.questions} questions)\n`;
  const failures = played.failures.map((f) => `    ${f}\n`).join('');
  if (!talk) return head + failures;
  const lines = played.turns
    .map(
      (t) =>
        `\n> ${t.said}\n\n${t.answer.reply}\n${(t.answer.ask?.choices ?? []).map((c, i) => `  ${i + 1}. ${c.label}\n`).join('')}`,
    )
    .join('');
  return `${head}${lines}\n${failures}`;
}
