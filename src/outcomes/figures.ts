/** Outcomes into figures: counts, shares with what they are a share of, means. */
import { brier, logScore } from '../diagnosis/scores.js';
import type { Knowledge } from '../knowledge/facts.js';
import type { EscalationKind } from '../message/outgoing.js';
import type { Outcome } from './outcome.js';
import { sentOf } from './sent.js';

interface Share {
  readonly count: number;
  readonly of: number;
}

interface Spread {
  readonly mean: number | null;
  readonly median: number | null;
}

type Counts = Readonly<Record<string, number>>;

export interface Figures {
  readonly invented: boolean;
  readonly cases: number;
  readonly closedAs: Counts;
  readonly causes: Counts;
  /** cause by layout, and by what starts a defrost */
  readonly byLayout: Readonly<Record<string, Counts>>;
  readonly byControl: Readonly<Record<string, Counts>>;
  /** the first conclusion against the confirmed cause */
  readonly rightFirstTime: Share;
  readonly questions: Spread;
  /** from the first message to the end */
  readonly days: Spread;
  /** right: the level sent was the level needed; a danger counts as right unless it was taken back */
  readonly escalations: Readonly<Record<string, Share & { readonly right: number }>>;
  readonly overEscalated: Share;
  readonly underEscalated: Share;
  readonly hazards: Readonly<
    Record<string, { readonly level: string; readonly count: number; readonly takenBack: number }>
  >;
  /** over the cases with a ranking and a cause that stands in it; null without any */
  readonly scores: { readonly of: number; readonly brier: number | null; readonly log: number | null };
}

const UNKNOWN = 'not-told';
const DAY = 86_400_000;

export function figuresOf(knowledge: Knowledge, outcomes: readonly Outcome[]): Figures {
  const known = outcomes.filter((o) => o.cause !== null && o.cause !== 'not-found');
  const concluded = known.filter((o) => o.concluded !== null);
  const sent = outcomes.flatMap((o) => sentOf(knowledge, o) ?? []);
  const scored = known.flatMap(({ ranking, cause }) =>
    ranking && cause !== null && ranking.some((r) => r.fault === cause) ? [{ ranking, cause }] : [],
  );
  return {
    invented: outcomes.some((o) => o.invented),
    cases: outcomes.length,
    closedAs: tally(outcomes.map((o) => o.closedAs)),
    causes: tally(outcomes.map((o) => o.cause ?? UNKNOWN)),
    byLayout: crossed(outcomes, (o) => o.layout),
    byControl: crossed(outcomes, (o) => o.control),
    rightFirstTime: { count: concluded.filter((o) => o.concluded === o.cause).length, of: concluded.length },
    questions: spread(outcomes.map((o) => o.questions)),
    days: spread(outcomes.map((o) => (Date.parse(o.closedAt) - Date.parse(o.openedAt)) / DAY)),
    escalations: escalationsOf(knowledge, outcomes),
    overEscalated: { count: sent.filter((s) => s.verdict === 'over').length, of: sent.length },
    underEscalated: { count: sent.filter((s) => s.verdict === 'under').length, of: sent.length },
    hazards: hazardsOf(outcomes),
    scores: {
      of: scored.length,
      brier: mean(scored.map((s) => brier(s.ranking, s.cause))),
      log: mean(scored.map((s) => logScore(s.ranking, s.cause))),
    },
  };
}

/** By kind: how many, how many of them can be judged, how many of those were right. */
function escalationsOf(knowledge: Knowledge, outcomes: readonly Outcome[]): Figures['escalations'] {
  const by = new Map<EscalationKind, { count: number; of: number; right: number }>();
  for (const outcome of outcomes) {
    if (!outcome.escalation) continue;
    const { kind } = outcome.escalation;
    const right = rightOf(knowledge, outcome, kind);
    const so = by.get(kind) ?? { count: 0, of: 0, right: 0 };
    by.set(kind, {
      count: so.count + 1,
      of: so.of + (right === null ? 0 : 1),
      right: so.right + (right === true ? 1 : 0),
    });
  }
  return Object.fromEntries([...by].sort(byName));
}

function rightOf(knowledge: Knowledge, outcome: Outcome, kind: EscalationKind): boolean | null {
  if (kind !== 'hazard') {
    const sent = sentOf(knowledge, outcome);
    return sent && sent.verdict === 'right';
  }
  return outcome.hazards.some((h) => h.level === 'stop' && !h.takenBack);
}

function hazardsOf(outcomes: readonly Outcome[]): Figures['hazards'] {
  const by = new Map<string, { level: string; count: number; takenBack: number }>();
  for (const { hazard, level, takenBack } of outcomes.flatMap((o) => o.hazards)) {
    const so = by.get(hazard) ?? { level, count: 0, takenBack: 0 };
    by.set(hazard, { level, count: so.count + 1, takenBack: so.takenBack + (takenBack ? 1 : 0) });
  }
  return Object.fromEntries([...by].sort(byName));
}

const byName = ([a]: readonly [string, unknown], [b]: readonly [string, unknown]): number => (a < b ? -1 : 1);

/** How often each occurs, the commonest first. */
function tally(names: readonly string[]): Counts {
  const by = new Map<string, number>();
  for (const name of names) by.set(name, (by.get(name) ?? 0) + 1);
  return Object.fromEntries([...by].sort((a, b) => b[1] - a[1] || byName(a, b)));
}

function crossed(outcomes: readonly Outcome[], key: (o: Outcome) => string | null): Figures['byLayout'] {
  const groups = new Map<string, string[]>();
  for (const o of outcomes) {
    const name = key(o) ?? UNKNOWN;
    groups.set(name, [...(groups.get(name) ?? []), o.cause ?? UNKNOWN]);
  }
  return Object.fromEntries([...groups].sort(byName).map(([name, causes]) => [name, tally(causes)]));
}

const mean = (numbers: readonly number[]): number | null =>
  numbers.length > 0 ? numbers.reduce((sum, n) => sum + n, 0) / numbers.length : null;

function spread(numbers: readonly number[]): Spread {
  const sorted = [...numbers].sort((a, b) => a - b);
  const middle = sorted.length / 2;
  const median = Number.isInteger(middle)
    ? mean(sorted.slice(middle - 1, middle + 1))
    : (sorted[Math.floor(middle)] ?? null);
  return { mean: mean(numbers), median };
}
