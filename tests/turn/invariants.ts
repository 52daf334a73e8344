// What holds after every message of every talk, as a list of what is broken: empty where all is well.

import type { CaseEvent } from '../../src/case/events.js';
import { standingStops, valueOf } from '../../src/case/look.js';
import { fold, newCase, readingId, type CaseState } from '../../src/case/state.js';
import { wordsFor, type Role, type Words } from '../../src/knowledge/facts.js';
import { NEEDED_FINDINGS as F } from '../../src/knowledge/named.js';
import { lineOut, type Answer } from '../../src/message/outgoing.js';
import { judgeAll } from '../../src/readings/judge.js';
import { AT, knowledge } from './a-talk.js';

export interface Moment {
  readonly role: Role;
  readonly before: CaseState;
  readonly after: CaseState;
  /** of this message alone, and of the whole case */
  readonly events: readonly CaseEvent[];
  readonly all: readonly CaseEvent[];
  readonly answer: Answer;
}

export function broken(m: Moment): string[] {
  return [...shape(m), ...ranking(m), ...danger(m), ...hands(m), ...again(m), ...rebuilt(m)];
}

function shape({ answer }: Moment): string[] {
  const read = lineOut.safeParse(JSON.parse(JSON.stringify(answer)));
  const bad = read.success ? [] : [`not the contract's shape: ${JSON.stringify(read.error.issues)}`];
  const { ask } = answer;
  if (!ask) return bad;
  if (ask.choices.at(-1)?.value !== 'not-sure') bad.push('not-sure is not the last choice');
  if (ask.finding !== null && ask.reading !== null) bad.push('a finding and a reading are asked at once');
  if (!answer.reply.includes(ask.text)) bad.push('the question does not stand in the reply');
  return bad;
}

function ranking({ answer }: Moment): string[] {
  const bad: string[] = [];
  const sum = answer.ranking.reduce((s, r) => s + r.probability, 0);
  if (!(Math.abs(sum - 1) < 1e-6)) bad.push(`the ranking sums to ${sum}`);
  if (new Set(answer.ranking.map((r) => r.fault)).size !== knowledge.faultIds.length) bad.push('a fault is not ranked');
  if (JSON.stringify(answer.ranking).includes('null')) bad.push('a probability is no number');
  return bad;
}

/** Lines that tell someone to do something at the unit, in a reader's words. */
const handsOn = new Map<Words, readonly string[]>(
  (['homeowner', 'technician'] as const).map((words) => {
    const steps = [...knowledge.steps.values()].filter((s) => s.needs.skill !== 'look' && s.id !== F.power);
    const immediate = new Set([...knowledge.hazards.values()].flatMap((h) => [...h.now[words], ...h.not[words]]));
    const lines = [
      ...steps.flatMap((s) => [s.ask[words].question, ...s.ask[words].how]),
      ...[...knowledge.findings.values()].flatMap((f) => f.watch?.ask[words].how ?? []),
      ...[...knowledge.faults.values()].flatMap((f) => f.repair[words].steps),
    ];
    return [words, [...new Set(lines)].filter((line) => !immediate.has(line) && line.length > 15)];
  }),
);

/** While a danger stands: no question but the power, and not even that for some; no step but the immediate ones. */
function danger({ role, after, answer }: Moment): string[] {
  const stops = standingStops(after);
  if (stops.length === 0) return [];
  const bad: string[] = [];
  const { ask } = answer;
  const quiet = stops.some((h) => knowledge.hazards.get(h.hazard)?.askPower === false);
  const takesBack = ask?.finding === null && ask.reading === null;
  if (ask && !takesBack && (ask.finding !== F.power || quiet))
    bad.push(`${ask.finding ?? ask.reading} is asked under ${stops.map((h) => h.hazard).join()}`);
  if (answer.conclusion) bad.push('a repair is advised while a danger stands');
  if (answer.status !== 'escalated') bad.push(`the status is ${answer.status} while a danger stands`);
  if (answer.escalation?.urgency !== 'now') bad.push('a standing danger is not urgent now');
  for (const line of handsOn.get(wordsFor(role)) ?? [])
    if (answer.reply.includes(line)) bad.push(`told to do while a danger stands: ${line}`);
  for (const [id, topic] of knowledge.topics)
    if (topic.handsOn && answer.reply.includes(topic.answer[wordsFor(role)][0] ?? id))
      bad.push(`the topic ${id} is told while a danger stands`);
  return bad;
}

/** What a homeowner may be asked to do. */
function hands({ role, after, answer }: Moment): string[] {
  if (role !== 'homeowner') return [];
  const bad: string[] = [];
  const skill = knowledge.steps.get(answer.ask?.finding ?? answer.ask?.reading ?? '')?.needs.skill;
  if (skill === 'live') bad.push('a homeowner is asked for a live test');
  if ((skill === 'panel' || skill === 'meter') && valueOf(after, F.canMeasure) !== 'yes')
    bad.push('a homeowner who has not said that they can measure is asked to take a cover off or to measure');
  const { conclusion } = answer;
  const own = conclusion && knowledge.faults.get(conclusion.fault)?.repair.homeowner;
  if (conclusion && own && (conclusion.action !== own.action || !own.steps.every((s) => conclusion.steps.includes(s))))
    bad.push("a homeowner is given another reader's repair");
  return bad;
}

/** A step that was answered is asked again only when something about it changed. */
function again({ role, before, events, all, answer }: Moment): string[] {
  const asked = events.findLast((e) => e.type === 'asked')?.question;
  const step = asked?.finding ?? asked?.reading;
  if (!asked || !step || !answer.ask || asked.kind === 'confirm') return [];
  const since = all.slice(all.findLastIndex((e) => settles(e, step)) + 1);
  const answered = all.some((e) => settles(e, step));
  if (!answered) return [];
  const withdrawn = since.some((e) => e.type === 'withdrawn' && (e.finding === step || e.reading === step));
  const state = fold(before, events);
  const doubted = judgeAll(knowledge, state, wordsFor(role)).some(
    (j) => j.step === step && (j.weights === null || j.asks !== null),
  );
  const watched = asked.value === 'watch' && state.facts[step]?.notSure === true;
  const powerIsOn = step === F.power && valueOf(state, F.power) !== 'off';
  const repaired = step === F.result && state.advice !== null;
  return withdrawn || doubted || watched || powerIsOn || repaired
    ? []
    : [`${step} is asked again, and nothing changed`];
}

function settles(e: CaseEvent, step: string): boolean {
  if (e.type === 'found') return e.finding === step && (e.values.length > 0 || e.notSure);
  if (e.type === 'measured') return readingId(e.measurement) === step;
  return e.type === 'unmeasurable' && e.reading === step;
}

function rebuilt({ all, after }: Moment): string[] {
  const [first] = all;
  if (!first) return [];
  const told = JSON.parse(JSON.stringify(all)) as CaseEvent[];
  const same = JSON.stringify(sorted(fold(newCase(AT, after.role), told))) === JSON.stringify(sorted(after));
  return same ? [] : ['the events do not fold to the state that is kept'];
}

/** Keys in one order, so that equal states are equal texts. */
function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(
    Object.entries(value)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([k, v]) => [k, sorted(v)]),
  );
}
