/**
 * `npm run evaluate`: how well the program understands, in figures with their intervals. Of the development set, and of
 * one half of a third writer's sentences, it can print every sentence that failed (`-- --show`); of the other half, of the
 * unseen third of the development writer's sentences and of the held-out set it prints figures and confusions only, so
 * that nobody tunes on them.
 */
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { hashOf, readFolders } from '../../src/knowledge/files.js';
import { loadKnowledge } from '../../src/knowledge/load.js';
import { mistakeLine } from '../../src/knowledge/mistake.js';
import { clopperPearson, missedAtMost } from './intervals.js';
import { readSet } from './labelled.js';
import { dimensionPhrases, inScope, outOfScopePhrases, readReference, temperaturePhrases } from './outside.js';
import { scoreSet, type Failure, type Scores, type Tally } from './score.js';

const { values: options } = parseArgs({
  options: { show: { type: 'boolean', default: false }, only: { type: 'string', default: '' } },
});
/** sets whose sentences may be shown */
const OPEN = new Set(['dev', 'third-odd']);
const root = process.cwd();
const sets = join(root, 'tests', 'language');
const print = (text: string): void => void process.stdout.write(`${text}\n`);

const texts = readFolders(join(root, 'knowledge'), null);
const loaded = loadKnowledge(texts, hashOf(texts, 'evaluate'));
if (!loaded.ok) {
  for (const m of loaded.mistakes) print(mistakeLine(m));
  process.exit(2);
}
const { knowledge } = loaded;

for (const name of ['dev', 'unseen', 'third-odd', 'third-even', 'held-out']) {
  if (options.only && options.only !== name) continue;
  const set = readSet(join(sets, name));
  const scores = scoreSet(knowledge, set);
  print(`\n== ${name}`);
  report(scores);
  share('in-scope, not called off-topic', inScope(knowledge, set));
  if (options.show && OPEN.has(name)) show(scores);
}
if (!options.only || options.only === 'outside') outside();

function report(scores: Scores): void {
  const f = scores.findings;
  line('finding recall', f.right, f.expected);
  line('finding precision', f.right, f.taken);
  line('utterances wholly right', f.whole, f.whole + f.failures.length);
  line('hedges heard', f.hedges.heard, f.hedges.total);
  share('readings exact', scores.readings);
  share('hazard recall (situations)', scores.hazards);
  if (scores.hazards.right === scores.hazards.total)
    print(`  none missed: at 95 % at most ${(100 * missedAtMost(scores.hazards.total)).toFixed(3)} % are`);
  print(`  other hazards raised beside the expected ones: ${scores.extraHazards}`);
  const d = scores.heardDanger;
  print(`  dangers: alarmed ${d.alarmed}, asked ${d.asked}, asked about another ${d.askedOther}, let go ${d.letGo}`);
  line('false alarms', scores.harmless.failures.length, scores.harmless.total);
  const look = scores.heardHarmless;
  print(`  look-alikes: alarmed ${look.alarmed}, asked ${look.asked}, let go ${look.letGo}`);
  const o = scores.ordinary;
  print(`  other sentences: alarmed ${o.alarmed}, asked ${o.asked} of ${o.total}`);
  share('talk acts', scores.talk);
  const worst = [...f.byFinding]
    .filter(([, c]) => c.missed + c.wrong > 0)
    .sort(([, a], [, b]) => b.missed + b.wrong - a.missed - a.wrong);
  print('  by finding: missed/expected, wrongly taken');
  for (const [finding, c] of worst) print(`    ${finding.padEnd(26)} ${c.missed}/${c.expected}, ${c.wrong}`);
  const readings = new Map<string, number>();
  for (const fail of scores.readings.failures)
    for (const what of [...fail.missed.map((m) => `missed ${m}`), ...fail.wrong.map((w) => `wrong ${w}`)]) {
      const kind = /^(?:missed|wrong) \S+/.exec(what)?.[0] ?? what;
      readings.set(kind, (readings.get(kind) ?? 0) + 1);
    }
  if (readings.size > 0) print(`  readings: ${[...readings].map(([r, n]) => `${r} ${n}`).join(', ')}`);
  const byHazard = new Map<string, number>();
  for (const fail of scores.hazards.failures) for (const h of fail.missed) byHazard.set(h, (byHazard.get(h) ?? 0) + 1);
  const falsely = new Map<string, number>();
  for (const fail of scores.harmless.failures)
    for (const w of fail.wrong) falsely.set(w.split(' ')[0] ?? '', (falsely.get(w.split(' ')[0] ?? '') ?? 0) + 1);
  if (falsely.size > 0) print(`  false alarms by hazard: ${[...falsely].map(([h, n]) => `${h} ${n}`).join(', ')}`);
  if (byHazard.size > 0) print(`  hazards missed: ${[...byHazard].map(([h, n]) => `${h} ${n}`).join(', ')}`);
}

function outside(): void {
  print('\n== outside sets');
  const temperatures = readReference(root, 'temperature-phrases.json') as
    Parameters<typeof temperaturePhrases>[0] | null;
  const dimensions = readReference(root, 'dimension-phrases.json') as Parameters<typeof dimensionPhrases>[0] | null;
  const others = readReference(root, 'out-of-scope-phrases.json') as string[] | null;
  if (!temperatures || !dimensions || !others) {
    print('skipped: the reference data does not lie beside the project');
    return;
  }
  const t = temperaturePhrases(temperatures);
  share('temperature phrases', t.supported);
  share('no temperature, and none taken', t.negative);
  const d = dimensionPhrases(dimensions);
  share('lengths', d.supported);
  share('other dimensions, no length taken', d.negative);
  const o = outOfScopePhrases(knowledge, others);
  share('out of scope: no finding taken', o.noFinding);
  share('out of scope: no hazard raised', o.noHazard);
  share('out of scope: called off-topic', o.offTopic);
  if (options.show)
    for (const tally of [t.supported, t.negative, d.supported, d.negative, o.noFinding, o.noHazard, o.offTopic])
      list('outside', tally.failures);
}

function show(scores: Scores): void {
  list('finding', scores.findings.failures);
  list('reading', scores.readings.failures);
  list('hazard', scores.hazards.failures);
  list('false alarm', scores.harmless.failures);
  list('talk', scores.talk.failures);
}

function list(what: string, failures: readonly Failure[]): void {
  for (const f of failures)
    print(
      `  ${what}: ${f.text}${f.missed.length ? `\n      missed ${f.missed.join(', ')}` : ''}${f.wrong.length ? `\n      wrong ${f.wrong.join(', ')}` : ''}`,
    );
}

function share(what: string, t: Tally): void {
  line(what, t.right, t.total);
}

function line(what: string, hits: number, n: number): void {
  const { low, high } = clopperPearson(hits, n);
  const percent = (x: number): string => (100 * x).toFixed(1);
  print(
    `  ${what.padEnd(36)} ${n === 0 ? '-' : percent(hits / n).padStart(5)} %  (${hits}/${n}, 95 % ${percent(low)} to ${percent(high)})`,
  );
}
