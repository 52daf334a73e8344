/** `thawline study`: how near the choice of questions comes to the best possible, and how far ahead of a checklist. */
import { availableParallelism } from 'node:os';
import { parseArgs } from 'node:util';
import { piecesOf, study, type Extent } from '../study/course.js';
import { loadFolder } from './knowledge-folder.js';
import { readSettings } from './settings.js';
import { UsageProblem } from './problem.js';
import { chartOf, studyText } from './study-text.js';
import { threads } from './study-threads.js';
import { isPictureName, writePicture } from './picture-file.js';
import { whole } from './whole.js';

export const help = `thawline study [--cases N] [--seed N] [--json] [--chart FILE]
  Measures the choice of questions on made-up cases; it says nothing of real units.
  - random small problems against the best possible, which is computed exactly
  - N made-up callers (500 by default), technicians and homeowners, drawn from the model and from others that are off:
    this program against a checklist found by search, a printed one, and other ways of asking, on the same callers
  - whether the chances it tells come true
  --chart FILE   mean minutes of each way of asking as bars; .svg or .png
  The same seed gives the same figures. How far it is goes to standard error.`;

const GIVEN = { cases: 500, seed: 1 } as const;
const MOST_CASES = 20_000;
/** Random problems of a size; callers that the search for the best checklist sees, and lists it looks at. */
const FIXED = { problems: 200, subModels: 200, beliefs: 200, training: 200, looks: 40 } as const;
/** More threads than this bring no more speed. */
const MOST_THREADS = 8;

export async function run(args: string[]): Promise<number> {
  const { values } = parseArgs({
    args,
    options: {
      cases: { type: 'string' },
      seed: { type: 'string' },
      json: { type: 'boolean' },
      chart: { type: 'string' },
    },
  });
  const callers = whole('cases', values.cases, GIVEN.cases, MOST_CASES);
  const seed = whole('seed', values.seed, GIVEN.seed, Number.MAX_SAFE_INTEGER);
  const file = values.chart;
  if (file !== undefined && !isPictureName(file))
    throw new UsageProblem(`--chart: "${file}" is no picture's name; end it with .svg or .png`);
  const { overlay } = readSettings();
  const knowledge = loadFolder(overlay);
  // small studies are for trying it out: they search and try less, and say how much
  const extent: Extent = {
    callers,
    problems: Math.min(FIXED.problems, callers),
    subModels: Math.min(FIXED.subModels, callers),
    beliefs: Math.min(FIXED.beliefs, callers),
    training: Math.min(FIXED.training, callers),
    looks: Math.min(FIXED.looks, callers),
  };
  const count = Math.min(MOST_THREADS, availableParallelism());
  const { workshop, end } = threads(count, { overlay, seed }, progress(piecesOf(extent)));
  try {
    const found = { seed, extent, ...(await study(extent, workshop)) };
    if (file !== undefined) await writePicture(file, chartOf(knowledge, found.groups));
    process.stdout.write(values.json ? `${JSON.stringify(found, null, 2)}\n` : studyText(knowledge, found));
  } finally {
    await end();
  }
  return 0;
}

const BAR = 30;

/** A bar that is written over on a screen; elsewhere a line at each tenth. */
function progress(pieces: number): (share: number) => void {
  let done = 0;
  let told = 0;
  return (share) => {
    done += share;
    const part = Math.min(1, done / pieces);
    const percent = Math.floor(100 * part);
    if (percent === told) return;
    if (process.stderr.isTTY) {
      const filled = Math.round(BAR * part);
      process.stderr.write(
        `\r[${'#'.repeat(filled)}${' '.repeat(BAR - filled)}] ${percent} %${percent === 100 ? '\n' : ''}`,
      );
    } else if (Math.floor(percent / 10) > Math.floor(told / 10)) process.stderr.write(`study: ${percent} %\n`);
    told = percent;
  };
}
