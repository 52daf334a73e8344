/** `thawline study`: how near the choice of questions comes to the best possible, on made-up problems. */
import { parseArgs } from 'node:util';
import type { Knowledge } from '../knowledge/facts.js';
import { say } from '../reply/say.js';
import { nearOptimum, sizes, type NearOptimum } from '../study/near-optimum.js';
import { tradePlays, tradeStudy, type Mean, type TradeRow } from '../study/trade-study.js';
import { loadFolder } from './knowledge-folder.js';
import { readSettings } from './settings.js';
import { whole } from './whole.js';

export const help = `thawline study [--cases N] [--callers N] [--seed N] [--json]
  How near the choice of the next question comes to the best possible, which is computed exactly: N random problems
  (200 by default) of each of three sizes. Then N made-up callers (100 by default) of the trade's own model, and of one
  whose likelihoods are off: minutes, right first time, hand-overs and questions, ours against others. The same seed gives the same figures. How far it is goes to standard error.`;

const GIVEN = { cases: 200, callers: 100, seed: 12_345 } as const;
const MOST_CASES = 10_000;

export async function run(args: string[]): Promise<number> {
  const { values } = parseArgs({
    args,
    options: {
      cases: { type: 'string' },
      callers: { type: 'string' },
      seed: { type: 'string' },
      json: { type: 'boolean' },
    },
  });
  const cases = whole('cases', values.cases, GIVEN.cases, MOST_CASES);
  const seed = whole('seed', values.seed, GIVEN.seed, Number.MAX_SAFE_INTEGER);
  const knowledge = loadFolder(readSettings().overlay);
  const callers = whole('callers', values.callers, GIVEN.callers, MOST_CASES);
  const seen = progress(cases * sizes + tradePlays(callers));
  const random = nearOptimum(cases, seed, seen);
  const trade = tradeStudy(knowledge, callers, seed, seen);
  const found = { seed, cases, callers, random, trade };
  process.stdout.write(
    values.json
      ? `${JSON.stringify(found, null, 2)}\n`
      : `${[...randomLines(knowledge, seed, random), ...tradeLines(knowledge, callers, trade)].join('\n')}\n`,
  );
  return 0;
}

/** On a screen only, and in place: a line that is written over. */
function progress(all: number): () => void {
  let done = 0;
  return () => {
    done += 1;
    if (process.stderr.isTTY) process.stderr.write(done < all ? `\r${done} / ${all}` : '\r\u001B[K');
  };
}

const NAME = 44;
const FIGURE = 8;

function randomLines(knowledge: Knowledge, seed: number, random: readonly NearOptimum[]): string[] {
  const words = (key: string, slots = {}): string => say(knowledge, 'technician', key, slots);
  const figures = (all: readonly string[]): string => all.map((f) => f.padStart(FIGURE)).join('');
  const out = [words('study.title', { seed })];
  for (const { faults, questions, policies } of random) {
    out.push('', words('study.size', { faults, questions, n: policies['ours']?.of ?? 0 }));
    const head = figures(['mean', 'p95', 'worst'].map((key) => words(`study.${key}`)));
    out.push(`  ${words('study.by-optimum').padEnd(NAME)}${head}`);
    for (const [name, { mean, p95, worst }] of Object.entries(policies))
      out.push(
        `  ${words(`study.policy.${name}`).padEnd(NAME)}${figures([mean, p95, worst].map((r) => r.toFixed(3)))}`,
      );
  }
  return out;
}

const WIDE = 18;

function tradeLines(knowledge: Knowledge, callers: number, rows: readonly TradeRow[]): string[] {
  const words = (key: string, slots = {}): string => say(knowledge, 'technician', key, slots);
  const figure = ({ mean, within }: Mean, times: number, digits: number): string =>
    words('study.within', { mean: (times * mean).toFixed(digits), within: (times * within).toFixed(digits) });
  const line = (name: string, all: readonly string[]): string =>
    `  ${name.padEnd(NAME)}${all.map((f) => f.padStart(WIDE)).join('')}`;
  const out: string[] = [];
  let group = '';
  for (const { words: who, off, policy, minutes, right, handedOver, questions, calibration } of rows) {
    const here = words(`study.trade.${who}.${off > 0 ? 'off' : 'as-it-is'}`, { n: callers, off });
    if (here !== group) {
      out.push('', here);
      out.push(
        line(
          '',
          ['minutes', 'right', 'handed-over', 'questions', 'off'].map((key) => words(`study.${key}`)),
        ),
      );
      group = here;
    }
    const told = calibration?.off.toFixed(3) ?? '';
    const all = [
      figure(minutes, 1, 0),
      figure(right, 100, 0),
      figure(handedOver, 100, 0),
      figure(questions, 1, 1),
      told,
    ];
    out.push(line(words(`study.policy.${policy}`), all));
  }
  return out;
}
