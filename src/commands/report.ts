/** `thawline report`: what came of the cases so far, as text, JSON or CSV. */
import { parseArgs } from 'node:util';
import type { Knowledge } from '../knowledge/facts.js';
import { csvOf } from '../outcomes/csv.js';
import { figuresOf, type Figures } from '../outcomes/figures.js';
import { inventedOutcomes } from '../outcomes/invented.js';
import { outcomeOf, type Outcome } from '../outcomes/outcome.js';
import { faultName } from '../reply/names.js';
import { say } from '../reply/say.js';
import { openStore } from '../store/store.js';
import { loadFolder } from './knowledge-folder.js';
import { UsageProblem } from './problem.js';
import { readSettings } from './settings.js';
import { whole } from './whole.js';

export const help = `thawline report [--json|--csv] [--db FILE]
thawline report --demo [--seed N] [--cases N] [--json|--csv]
  Causes, right first time, questions and days, hand-overs, dangers, how well the chances were told, over all closed
  cases. --demo takes invented outcomes instead (500 by default), and says so.`;

const DEMO = { cases: 500, seed: 1 } as const;
const MOST_CASES = 100_000;

export async function run(args: string[]): Promise<number> {
  const { values } = parseArgs({
    args,
    options: {
      demo: { type: 'boolean' },
      seed: { type: 'string' },
      cases: { type: 'string' },
      json: { type: 'boolean' },
      csv: { type: 'boolean' },
      db: { type: 'string' },
    },
  });
  if (values.json && values.csv) throw new UsageProblem('either --json or --csv');
  if (!values.demo && (values.seed !== undefined || values.cases !== undefined))
    throw new UsageProblem('--seed and --cases go with --demo');
  const settings = readSettings(values.db);
  const knowledge = loadFolder(settings.overlay);
  const outcomes = values.demo
    ? inventedOutcomes(
        knowledge,
        whole('cases', values.cases, DEMO.cases, MOST_CASES),
        whole('seed', values.seed, DEMO.seed, Number.MAX_SAFE_INTEGER),
      )
    : stored(settings.db);
  const figures = figuresOf(knowledge, outcomes);
  const out = values.json
    ? `${JSON.stringify(figures, null, 2)}\n`
    : values.csv
      ? csvOf(figures)
      : text(knowledge, figures);
  process.stdout.write(out);
  return 0;
}

function stored(db: string): Outcome[] {
  const store = openStore(db);
  try {
    return store.cases().flatMap((id) => outcomeOf(id, store.events(id)) ?? []);
  } finally {
    store.close();
  }
}

const NAME = 44;

function text(knowledge: Knowledge, f: Figures): string {
  const words = (key: string, slots = {}): string => say(knowledge, 'technician', key, slots);
  const out: string[] = [words(f.invented ? 'report.title.invented' : 'report.title', { n: f.cases })];
  if (f.cases === 0) return `${out[0]}\n`;
  const line = (name: string, value: string): void => void out.push(`  ${name.padEnd(NAME)} ${value}`);
  const head = (key: string): void => void out.push('', words(key));
  const share = ({ count, of }: { count: number; of: number }): string =>
    of === 0 ? words('report.none') : words('report.share', { count, of, percent: Math.round((100 * count) / of) });
  const round = (n: number | null, digits: number): string => (n === null ? words('report.none') : n.toFixed(digits));
  const cause = (id: string): string =>
    knowledge.faults.has(id) ? faultName(knowledge, 'technician', id) : words(`report.cause.${id}`);

  head('report.ends');
  for (const [how, count] of Object.entries(f.closedAs))
    line(words(`report.end.${how}`), share({ count, of: f.cases }));
  head('report.right');
  line(words('report.first'), share(f.rightFirstTime));
  line(words('report.over'), share(f.overEscalated));
  line(words('report.under'), share(f.underEscalated));
  head('report.effort');
  for (const key of ['questions', 'days'] as const)
    line(
      words(`report.${key}`),
      words('report.spread', { mean: round(f[key].mean, 1), median: round(f[key].median, 1) }),
    );
  head('report.scores');
  line(words('report.brier'), words('report.over-cases', { value: round(f.scores.brier, 3), n: f.scores.of }));
  line(words('report.log'), words('report.over-cases', { value: round(f.scores.log, 3), n: f.scores.of }));
  head('report.escalations');
  for (const [kind, { count, of, right }] of Object.entries(f.escalations))
    line(words(`page.kind.${kind}`), words('report.judged', { count, right: share({ count: right, of }) }));
  head('report.hazards');
  for (const [hazard, { count, takenBack }] of Object.entries(f.hazards))
    line(knowledge.hazards.get(hazard)?.name.technician ?? hazard, words('report.hazard', { count, takenBack }));
  for (const [key, groups] of [
    ['report.by-layout', f.byLayout],
    ['report.by-control', f.byControl],
  ] as const) {
    head(key);
    const finding = key === 'report.by-layout' ? 'unit.layout' : 'unit.defrost-control';
    for (const [group, causes] of Object.entries(groups)) {
      const label = knowledge.findings.get(finding)?.choices[group]?.technician ?? words('report.cause.not-told');
      out.push(`  ${label}`);
      for (const [id, count] of Object.entries(causes)) line(`  ${cause(id)}`, String(count));
    }
  }
  return `${out.join('\n')}\n`;
}
