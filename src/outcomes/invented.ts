/** Made-up outcomes, each marked as such, to try the report: the same seed gives the same ones. They teach nothing. */
import { numbersFrom } from '../diagnosis/seeded.js';
import type { Fault, Knowledge } from '../knowledge/facts.js';
import { NEEDED_FINDINGS as F } from '../knowledge/named.js';
import type { Outcome } from './outcome.js';

const HOUR = 3_600_000;
const START = Date.parse('2026-01-05T08:00:00Z');

export function inventedOutcomes(knowledge: Knowledge, count: number, seed: number): Outcome[] {
  const random = numbersFrom(seed);
  return Array.from({ length: count }, (_, i) => invent(knowledge, random, i));
}

function invent(knowledge: Knowledge, random: () => number, i: number): Outcome {
  const faults = [...knowledge.faults.values()];
  const pick = <T>(from: readonly T[]): T => from[Math.floor(random() * from.length)] as T;
  const chance = (p: number): boolean => random() < p;
  const valueOf = (finding: string): string | null =>
    chance(0.9) ? pick(knowledge.findings.get(finding)?.values ?? ['']) : null;
  const truth = drawn(faults, random);
  const ranking = rankingFor(faults, truth, random);
  const top = ranking.find((r) => knowledge.faults.get(r.fault)?.concludable)?.fault ?? truth.id;
  const words = chance(0.7) ? 'homeowner' : 'technician';
  const { action } = knowledge.faults.get(top)?.repair[words] ?? { action: 'technician-visit' };
  const stops = [...knowledge.hazards.values()].filter((h) => h.level === 'stop');
  const danger = chance(0.08) ? pick(stops) : null;
  const escalation: Outcome['escalation'] = danger
    ? { kind: 'hazard', urgency: 'now' }
    : chance(0.05)
      ? { kind: 'asked-for-person', urgency: 'routine' }
      : action === 'licensed-technician'
        ? { kind: 'sealed-system', urgency: 'today' }
        : action === 'technician-visit'
          ? { kind: chance(0.15) ? 'stuck' : 'visit', urgency: chance(0.4) ? 'today' : 'routine' }
          : null;
  const closedAs = escalation ? 'desk' : chance(0.15) ? 'unanswered' : 'fixed';
  const opened = START + i * 7 * HOUR;
  const hours = 1 + random() * (escalation ? 240 : 120);
  const concluded = escalation && escalation.kind !== 'visit' && escalation.kind !== 'sealed-system' ? null : top;
  return {
    id: `invented-${i + 1}`,
    invented: true,
    openedAt: new Date(opened).toISOString(),
    closedAt: new Date(opened + hours * HOUR).toISOString(),
    closedAs,
    words,
    layout: valueOf(F.layout),
    control: valueOf(F.defrostControl),
    cause: closedAs === 'unanswered' ? null : chance(0.04) ? 'not-found' : truth.id,
    concluded,
    ranking: danger ? null : ranking,
    questions: 2 + Math.floor(random() * 9),
    escalation,
    hazards: danger ? [{ hazard: danger.id, level: danger.level, takenBack: chance(0.1) }] : [],
  };
}

/** A fault by its share of calls. */
function drawn(faults: readonly Fault[], random: () => number): Fault {
  let left = random() * faults.reduce((sum, f) => sum + f.share.value, 0);
  for (const fault of faults) {
    left -= fault.share.value;
    if (left <= 0) return fault;
  }
  return faults.at(-1) as Fault;
}

/** Chances that sum to 1 and lean towards the truth, mostly. */
function rankingFor(faults: readonly Fault[], truth: Fault, random: () => number): NonNullable<Outcome['ranking']> {
  const weight = faults.map((f) => f.share.value * random() ** 3 + (f === truth ? 60 * random() : 0) + 0.01);
  const total = weight.reduce((sum, w) => sum + w, 0);
  return faults
    .map((f, n) => ({ fault: f.id, probability: (weight[n] ?? 0) / total }))
    .sort((a, b) => b.probability - a.probability);
}
