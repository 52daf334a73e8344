/**
 * A model that is not ours: every likelihood, share of calls and cost of the folder off by log-normal noise, so that who
 * draws callers from it does not draw them from what the planner believes.
 */
import type { Costs, Finding, Knowledge, Reading, Step, Table, Words } from '../knowledge/facts.js';
import { normal } from './chance.js';

/** `sigma`: the standard deviation of the natural logarithm of each number against ours; 0 leaves all as it is. */
export function otherModel(knowledge: Knowledge, sigma: number, random: () => number): Knowledge {
  const noise = (): number => Math.exp(sigma * normal(random));
  const faults = new Map(
    [...knowledge.faults].map(([id, f]) => [id, { ...f, share: { ...f.share, value: f.share.value * noise() } }]),
  );
  const off = <S extends Step>(step: S): S => ({
    ...step,
    minutes: step.minutes * noise(),
    table: step.table && offTable(step.table, step.many, noise),
  });
  const findings = new Map(
    [...knowledge.findings].map(([id, f]): [string, Finding] => {
      const watch = f.watch && { ...f.watch, minutes: f.watch.minutes * noise() };
      return [id, { ...off(f), watch }];
    }),
  );
  const readings = new Map([...knowledge.readings].map(([id, r]): [string, Reading] => [id, off(r)]));
  const access = new Map([...knowledge.access].map(([id, a]) => [id, { ...a, minutes: a.minutes * noise() }]));
  return {
    ...knowledge,
    faults,
    findings,
    readings,
    steps: new Map<string, Step>([...findings, ...readings]),
    access,
    costs: offCosts(knowledge, noise),
  };
}

function offTable({ base, rows }: Table, many: boolean, noise: () => number): Table {
  const off = (row: Float64Array): Float64Array => {
    // values of which several may hold have chances of their own: their odds are off
    if (many)
      return row.map((p) => {
        const odds = (p / (1 - p)) * noise();
        return p >= 1 ? p : odds / (1 + odds);
      });
    const raw = row.map((p) => p * noise());
    const sum = raw.reduce((s, p) => s + p, 0);
    return raw.map((p) => p / sum);
  };
  return { base: off(base), rows: rows.map(off) };
}

function offCosts({ costs, faults }: Knowledge, noise: () => number): Costs {
  const both = <T>(of: (words: Words) => T): Record<Words, T> => ({
    homeowner: of('homeowner'),
    technician: of('technician'),
  });
  const remedies = both(
    (words) => new Map([...new Set([...faults.values()].map((f) => f.repair[words].remedy))].map((r) => [r, noise()])),
  );
  return {
    ...costs,
    remedy: (remedy, words) => costs.remedy(remedy, words) * (remedies[words].get(remedy) ?? 1),
    wrong: both((words) => costs.wrong[words] * noise()),
    wrongAtLeast: costs.wrongAtLeast * noise(),
    otherPart: costs.otherPart * noise(),
    handOver: both((words) => costs.handOver[words] * noise()),
    licensedMissed: costs.licensedMissed * noise(),
    waitHour: costs.waitHour * noise(),
    perQuestion: costs.perQuestion * noise(),
  };
}
