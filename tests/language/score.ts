/**
 * Scores one labelled set against what the turn hears: findings, readings, hazards, look-alikes, talk acts. Whatever
 * is marked `may` counts neither as missed nor as wrong. It judges; it never shows the program a label.
 */
import type { CaseEvent } from '../../src/case/events.js';
import { fold, newCase, type CaseState } from '../../src/case/state.js';
import type { Knowledge, Role } from '../../src/knowledge/facts.js';
import { accept } from '../../src/readings/accept.js';
import { hear, type Heard } from '../../src/turn/hear.js';
import type { ReadingIn } from '../../src/message/incoming.js';
import type { Alarm, LabelledReading, LabelledSet, LookAlike, TalkAct, Utterance } from './labelled.js';

const AT = '2026-11-25T12:00:00Z';

export interface Failure {
  readonly text: string;
  readonly missed: readonly string[];
  readonly wrong: readonly string[];
}

export interface Tally {
  readonly total: number;
  readonly right: number;
  readonly failures: readonly Failure[];
}

interface FindingTally {
  readonly expected: number;
  readonly taken: number;
  readonly right: number;
  readonly whole: number;
  readonly hedges: { readonly total: number; readonly heard: number };
  /** per finding: expected, right, wrongly taken, and what was taken instead */
  readonly byFinding: ReadonlyMap<string, Confusion>;
  readonly failures: readonly Failure[];
}
interface Confusion {
  expected: number;
  missed: number;
  wrong: number;
}

export interface Scores {
  readonly findings: FindingTally;
  readonly readings: Tally;
  /** one entry a situation */
  readonly hazards: Tally;
  readonly heardDanger: Hearing;
  readonly extraHazards: number;
  readonly harmless: Tally;
  readonly heardHarmless: Hearing;
  /** of the sentences about findings, readings and the talk: how many were asked whether there is danger */
  readonly ordinary: { readonly total: number; readonly alarmed: number; readonly asked: number };
  readonly talk: Tally;
}

/** What became of a set's situations or look-alikes. */
interface Hearing {
  readonly alarmed: number;
  /** asked first, about a danger that was meant (of a look-alike: about any) */
  readonly asked: number;
  readonly askedOther: number;
  readonly letGo: number;
}
type Outcome = keyof Hearing;

export function scoreSet(knowledge: Knowledge, set: LabelledSet): Scores {
  const alarms = set.hazards.map((a) => scoreAlarm(knowledge, a));
  return {
    findings: scoreFindings(knowledge, set.findings),
    readings: tally(set.readings.map((r) => scoreReading(knowledge, r))),
    hazards: tally(bySituation(set.hazards, alarms)),
    heardDanger: hearing(outcomesBySituation(set.hazards, alarms)),
    extraHazards: alarms.reduce((n, a) => n + a.extra.length, 0),
    harmless: tally(set.harmless.map((h) => scoreLookAlike(knowledge, h))),
    heardHarmless: hearing(set.harmless.map((h) => outcomeOf(heardIn(knowledge, h.text), null))),
    ordinary: ordinary(knowledge, set),
    talk: tally(set.talk.map((t) => scoreTalk(knowledge, t))),
  };
}

/** What the turn hears in a text, in a case that has begun, with `asked` as the question that stands. */
export function heardIn(knowledge: Knowledge, text: string, role: Role = 'homeowner', asked?: string): Heard {
  const isReading = asked !== undefined && knowledge.readings.has(asked);
  const begun: CaseState = fold(newCase(AT, role), [
    { type: 'opened', at: AT, by: 'u', role },
    // how a repair went is asked, and heard, only after one was advised
    ...(asked === 'repair.result' ? [advised] : []),
    {
      type: 'asked',
      at: AT,
      question: {
        kind: isReading ? 'measurement' : 'choice',
        finding: asked !== undefined && !isReading ? asked : null,
        reading: isReading ? asked : null,
        about: null,
        value: null,
        was: null,
        notBefore: null,
      },
    },
  ]);
  const incoming = { conversation: 'c', from: { id: 'u', role }, said: { kind: 'text', text }, at: AT } as const;
  return hear(knowledge, begun, incoming as Parameters<typeof hear>[2], AT);
}

const advised: CaseEvent = {
  type: 'advised',
  at: AT,
  remedy: 'clean-gasket',
  fault: 'gasket-dirty',
  words: 'homeowner',
};

const tally = (failures: readonly (Failure | null)[]): Tally => ({
  total: failures.length,
  right: failures.filter((f) => f === null).length,
  failures: failures.filter((f) => f !== null),
});

function scoreFindings(knowledge: Knowledge, utterances: readonly Utterance[]): FindingTally {
  const byFinding = new Map<string, Confusion>();
  const count = (finding: string, what: keyof Confusion): void => {
    const c = byFinding.get(finding) ?? { expected: 0, missed: 0, wrong: 0 };
    c[what] += 1;
    byFinding.set(finding, c);
  };
  const failures: Failure[] = [];
  let expected = 0;
  let taken = 0;
  let right = 0;
  let whole = 0;
  const hedges = { total: 0, heard: 0 };
  for (const u of utterances) {
    const { understood } = heardIn(knowledge, u.text, u.role, u.asked);
    const isMany = (finding: string): boolean => knowledge.findings.get(finding)?.many ?? false;
    const gold = keysOf(u.means, u.denied, isMany);
    const may = keysOf(u.may, u.may, () => true);
    const said = new Set(
      understood
        .filter((f) => knowledge.findings.has(f.finding))
        .filter((f) => !f.denied || isMany(f.finding) || !understood.some((o) => o.finding === f.finding && !o.denied))
        .map((f) => keyOf(f.finding, f.value, f.denied)),
    );
    // a finding with one value at a time: naming the value denies the others
    const implied = (key: string): boolean => {
      const [finding = '', value = ''] = key.replace(/^not /, '').split('=');
      return key.startsWith('not ') && !isMany(finding) && valuesMeant(u, finding).some((v) => v !== value);
    };
    const missed = [...gold].filter((k) => !said.has(k));
    const wrong = [...said].filter((k) => !gold.has(k) && !may.has(k) && !implied(k));
    expected += gold.size;
    right += gold.size - missed.length;
    taken += gold.size - missed.length + wrong.length;
    for (const k of gold) count(findingOf(k), 'expected');
    for (const k of missed) count(findingOf(k), 'missed');
    for (const k of wrong) count(findingOf(k), 'wrong');
    if (missed.length + wrong.length === 0) whole += 1;
    else failures.push({ text: `${u.text}${u.asked ? `   [asked ${u.asked}]` : ''}`, missed, wrong });
    for (const finding of u.hedged) {
      hedges.total += 1;
      if (understood.some((f) => f.finding === finding && f.confidence < SURE)) hedges.heard += 1;
    }
  }
  return { expected, taken, right, whole, hedges, byFinding, failures };
}
/** below this an answer is asked to be confirmed */
const SURE = 0.75;

const keyOf = (finding: string, value: string, denied: boolean): string => `${denied ? 'not ' : ''}${finding}=${value}`;
const findingOf = (key: string): string => key.replace(/^not /, '').split('=')[0] ?? '';
const valuesMeant = (u: Utterance, finding: string): readonly string[] => u.means[finding] ?? [];

function keysOf(
  means: Utterance['means'],
  denied: Utterance['denied'],
  isMany: (finding: string) => boolean,
): Set<string> {
  const keys = new Set<string>();
  for (const [finding, values] of Object.entries(means)) for (const v of values) keys.add(keyOf(finding, v, false));
  for (const [finding, values] of Object.entries(denied))
    if (isMany(finding) || !means[finding]) for (const v of values) keys.add(keyOf(finding, v, true));
  return keys;
}

/** Same part, quantity, value and temperature; a temperature that was only assumed from words is neither. */
function scoreReading(knowledge: Knowledge, label: LabelledReading): Failure | null {
  const heard = heardIn(knowledge, label.text, 'technician', label.asked);
  const got = heard.measured.map((m) => ({ ...m, name: `${m.part}.${m.quantity}` }));
  const missed: string[] = [];
  const used = new Set<number>();
  for (const r of label.readings) {
    const gold = inSi(knowledge, r as ReadingIn);
    const at = got.findIndex((m, i) => {
      if (used.has(i) || m.part !== r.part) return false;
      const openEither = (r.value === 'OL' || r.value === 'open') && (m.value === 'OL' || m.value === 'open');
      const quantityFits = m.quantity === r.quantity || (openEither && label.asked === undefined);
      const value =
        openEither ||
        m.value === gold ||
        (typeof gold === 'number' && typeof m.value === 'number' && close(m.value, gold));
      const temperature =
        r.atC === undefined ? m.atC === null || m.atAssumed : m.atC !== null && Math.abs(m.atC - r.atC) < 0.11;
      return quantityFits && value && temperature;
    });
    if (at >= 0) used.add(at);
    else missed.push(show({ ...r, value: gold, atC: r.atC ?? null }));
  }
  const wrong = got.filter((_, i) => !used.has(i)).map((m) => show(m));
  if (label['ask-unit'] && heard.unitless === null) missed.push('ask which unit');
  if (!label['ask-unit'] && heard.unitless !== null) wrong.push(`asks which unit ${heard.unitless} is in`);
  return missed.length + wrong.length === 0
    ? null
    : { text: `${label.text}${label.asked ? `   [asked ${label.asked}]` : ''}`, missed, wrong };
}

const close = (a: number, b: number): boolean => Math.abs(a - b) <= 1e-6 * Math.max(1, Math.abs(b));
const show = (r: { part: string; quantity: string; value: unknown; atC: number | null }): string =>
  `${r.part}.${r.quantity} ${String(r.value)}${r.atC === null ? '' : ` at ${r.atC} C`}`;

function inSi(knowledge: Knowledge, reading: ReadingIn): number | string {
  const accepted = accept(knowledge, reading);
  if (!accepted.ok) throw new Error(`a label is no reading: ${JSON.stringify(reading)}: ${accepted.message}`);
  return accepted.measurement.value;
}

/** `meant`: the hazards of a danger; null for a look-alike. */
function outcomeOf({ dangers, doubt }: Heard, meant: readonly string[] | null): Outcome {
  const raised = dangers.map((d) => d.hazard);
  if (meant ? meant.every((h) => raised.includes(h)) : raised.length > 0) return 'alarmed';
  if (doubt.length === 0) return 'letGo';
  return !meant || doubt.some((d) => meant.includes(d)) ? 'asked' : 'askedOther';
}

function hearing(outcomes: readonly Outcome[]): Hearing {
  const count = (what: Outcome): number => outcomes.filter((o) => o === what).length;
  return { alarmed: count('alarmed'), asked: count('asked'), askedOther: count('askedOther'), letGo: count('letGo') };
}

const WORST: readonly Outcome[] = ['alarmed', 'asked', 'askedOther', 'letGo'];
function outcomesBySituation(alarms: readonly Alarm[], scored: readonly { readonly outcome: Outcome }[]): Outcome[] {
  const situations = new Map<string, Outcome>();
  alarms.forEach((a, i) => {
    const now = scored[i]?.outcome ?? 'letGo';
    const before = situations.get(a.situation);
    situations.set(a.situation, before && WORST.indexOf(before) > WORST.indexOf(now) ? before : now);
  });
  return [...situations.values()];
}

function ordinary(knowledge: Knowledge, set: LabelledSet): Scores['ordinary'] {
  const heard = [...set.findings, ...set.readings, ...set.talk].map((u) =>
    heardIn(knowledge, u.text, 'role' in u ? u.role : 'homeowner'),
  );
  return {
    total: heard.length,
    alarmed: heard.filter((h) => h.dangers.length > 0).length,
    asked: heard.filter((h) => h.dangers.length === 0 && h.doubt.length > 0).length,
  };
}

function scoreAlarm(
  knowledge: Knowledge,
  a: Alarm,
): { readonly failure: Failure | null; readonly extra: string[]; readonly outcome: Outcome } {
  const all = heardIn(knowledge, a.text);
  const heard = all.dangers.map((d) => d.hazard);
  const missed = a.hazard.filter((h) => !heard.includes(h));
  const extra = heard.filter((h) => !a.hazard.includes(h) && !a.may.includes(h));
  const doubt = all.doubt.map((d) => `asked about ${d}`);
  const failure = missed.length > 0 ? { text: a.text, missed, wrong: doubt } : null;
  return { failure, extra, outcome: outcomeOf(all, a.hazard) };
}

/** A situation is missed when any hazard of any of its sentences is. */
function bySituation(alarms: readonly Alarm[], scored: readonly { failure: Failure | null }[]): (Failure | null)[] {
  const situations = new Map<string, Failure | null>();
  alarms.forEach((a, i) => {
    situations.set(a.situation, situations.get(a.situation) ?? scored[i]?.failure ?? null);
  });
  return [...situations.values()];
}

function scoreLookAlike(knowledge: Knowledge, l: LookAlike): Failure | null {
  const raised = heardIn(knowledge, l.text).dangers.map((d) => `${d.hazard} ("${d.span}")${d.plain ? ' plainly' : ''}`);
  return raised.length > 0 ? { text: l.text, missed: [], wrong: raised } : null;
}

function scoreTalk(knowledge: Knowledge, t: TalkAct): Failure | null {
  const acts = actsOf(heardIn(knowledge, t.text));
  return acts.includes(t.act) ? null : { text: t.text, missed: [t.act], wrong: acts };
}

/** The labels of talk.yaml that a message earns. */
function actsOf(heard: Heard): string[] {
  const acts: string[] = [...heard.acts].map((a) => ACT_LABELS[a] ?? a);
  if (heard.topic) acts.push(heard.topic, ...(TOPIC_ACTS[heard.topic] ?? []));
  if (heard.offTopic) acts.push('off-topic');
  if (heard.result) acts.push(heard.result);
  return acts;
}
const ACT_LABELS: Readonly<Record<string, string>> = {
  known: 'what-do-you-know',
  'another-language': 'other-language',
};
/** Topics that a set's writer calls otherwise. */
const TOPIC_ACTS: Readonly<Record<string, readonly string[]>> = {
  'cost-and-worth': ['cost'],
  'food-safe': ['food'],
  'how-urgent': ['urgency'],
  'what-technician-needs': ['technician-needs'],
};
