/** `thawline knowledge`: every mistake of the knowledge folder in one run, and what the folder covers. */
import { parseArgs } from 'node:util';
import { coverageOf } from '../knowledge/coverage.js';
import type { Knowledge } from '../knowledge/facts.js';
import { hashOf } from '../knowledge/files.js';
import { loadKnowledge, type SourceText } from '../knowledge/load.js';
import { mistakeLine, type Mistake } from '../knowledge/mistake.js';
import { shown } from '../message/shown.js';
import { mistakesOfReadings } from '../readings/needed.js';
import { phraseProblems } from '../understand/check-phrases.js';
import { readTexts, version } from './knowledge-folder.js';
import { UsageProblem } from './problem.js';
import { readSettings } from './settings.js';

export const help = `thawline knowledge [FOLDER] [--quiet]
  Checks the knowledge folder, and FOLDER (or THAWLINE_KNOWLEDGE) laid over it: every mistake with file, line and what
  was expected. Then a table of what it covers.`;

const LEAST_FAVOURED = 2;

export async function run(args: string[]): Promise<number> {
  const { values, positionals } = parseArgs({ args, options: { quiet: { type: 'boolean' } }, allowPositionals: true });
  if (positionals.length > 1) throw new UsageProblem('name one folder at the most');
  const texts = readTexts(positionals[0] ?? readSettings().overlay);
  const loaded = loadKnowledge(texts, hashOf(texts, version()));
  const mistakes = loaded.ok
    ? [...phraseMistakes(loaded.knowledge, texts), ...readingMistakes(loaded.knowledge, texts)]
    : loaded.mistakes;
  for (const m of mistakes) process.stderr.write(`${shown(mistakeLine(m))}\n`);
  if (!loaded.ok || mistakes.length > 0) {
    process.stderr.write(`${mistakes.length} mistake(s) in ${new Set(mistakes.map((m) => m.file)).size} file(s)\n`);
    return 2;
  }
  process.stdout.write(report(loaded.knowledge, values.quiet ?? false));
  return 0;
}

function phraseMistakes(knowledge: Knowledge, texts: readonly SourceText[]): Mistake[] {
  return phraseProblems(knowledge).map((p) => {
    const path = p.where.split(' ')[0] ?? '';
    const source = texts.find((t) => t.path === path);
    const line = source ? source.text.split('\n').findIndex((l) => l.includes(p.text.slice(0, 40))) + 1 : 0;
    return {
      file: source?.file ?? path,
      line: Math.max(line, 1),
      problem: `${p.problem}: "${p.text}" (${p.where})`,
      mend: p.mend,
    };
  });
}

/** What a judge lacks in the readings, at the line of the quantity it judges. */
function readingMistakes(knowledge: Knowledge, texts: readonly SourceText[]): Mistake[] {
  return mistakesOfReadings(knowledge).map((m) => {
    const source = texts.find((t) => `knowledge/${t.path}` === m.file);
    if (!source) return m;
    const quantity = m.problem.split(':')[0] ?? '';
    const line = source.text.split('\n').findIndex((l) => l.trim() === `${quantity}:`) + 1;
    return { ...m, file: source.file, line: Math.max(line, 1) };
  });
}

function report(knowledge: Knowledge, quiet: boolean): string {
  const counts = `${knowledge.faults.size} faults, ${knowledge.findings.size} findings, ${knowledge.readings.size} readings of ${knowledge.parts.size} parts, ${knowledge.hazards.size} hazards, ${knowledge.topics.size} topics, ${knowledge.curves.size} curves: no mistakes\n`;
  if (quiet) return counts;
  const rows = coverageOf(knowledge).map(
    (c) =>
      `${c.fault.padEnd(34)} ${String(c.favouredBy.length).padStart(3)}  ${c.favouredBy.slice(0, LEAST_FAVOURED).join('; ')}`,
  );
  const hazards = [...knowledge.hazards.values()].map(
    (h) =>
      `${h.id.padEnd(34)} ${h.level.padEnd(8)} ${String(h.phrases.length).padStart(3)} phrases ${String(h.examples.length).padStart(3)} examples ${String(h.harmless.length).padStart(3)} harmless`,
  );
  return `${counts}\nFault, and how many observations favour it 3 to 1 or more\n${rows.join('\n')}\n\nHazard\n${hazards.join('\n')}\n`;
}
