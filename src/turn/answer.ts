/** The turn as the answer of the contract: what to say and in which order, and the case as it stands after it. */
import { isEscalated, standingStops } from '../case/look.js';
import type { CaseState } from '../case/state.js';
import { likelyPairs } from '../diagnosis/belief.js';
import { candidatesOf } from '../diagnosis/candidates.js';
import { conflicts, ruledOut } from '../diagnosis/explain.js';
import { escalationOf } from '../handoff/summary.js';
import { wordsFor, type Knowledge, type Role } from '../knowledge/facts.js';
import { NEEDED_FINDINGS as F } from '../knowledge/named.js';
import { valueOf } from '../case/look.js';
import type { Answer, Conclusion, Escalation, Status } from '../message/outgoing.js';
import { toOut } from '../readings/judge.js';
import { askOut } from '../reply/ask.js';
import { composeReply, judgedOf, type Part } from '../reply/compose.js';
import { conclusionOf } from '../reply/conclusion.js';
import type { Next } from './decide.js';
import type { Heard } from './hear.js';
import { isFoodWarm } from './record.js';
import type { Mind } from './think.js';

/** What only the surroundings know. */
export interface Setting {
  readonly conversation: string;
  readonly caseId: string;
  /** one line: how to reach a person */
  readonly contact: string | null;
  /** the channel has said the first words already */
  readonly greeted: boolean;
  /** where the page of a hand-over goes when there is no desk; null with one */
  readonly pagePath: string | null;
  readonly notes: Answer['notes'];
}

const PAIR_ABOVE = 0.05;
const RULED_OUT_SHARE = 0.01;

export function answerOf(
  knowledge: Knowledge,
  before: CaseState,
  after: CaseState,
  role: Role,
  setting: Setting,
  heard: Heard,
  mind: Mind,
  next: Next,
): Answer {
  const words = wordsFor(role);
  const conclusion = concluded(knowledge, after, mind);
  const pairs = likelyPairs(mind.model, mind.belief, PAIR_ABOVE);
  const question =
    after.question && (after.question.finding ?? after.question.reading ?? after.question.about)
      ? after.question
      : null;
  const ask = question ? askOut(knowledge, words, question, after, next.kind === 'ask' ? next.reason : null) : null;
  const measured = heard.measured.flatMap((m) => judgedOf(mind.judged, m) ?? []);
  return {
    case: setting.conversation,
    caseId: setting.caseId,
    understood: [...heard.understood],
    withdrawn: [...heard.withdrawn],
    readings: measured.map(toOut),
    hazards: heard.dangers.map(({ hazard, level }) => ({ hazard, level })),
    notes: setting.notes,
    offTopic: heard.offTopic,
    wantsPerson: heard.wantsPerson,
    reply: composeReply(
      knowledge,
      { role, units: after.units ?? 'us' },
      partsOf(knowledge, before, after, role, setting, heard, mind, next, conclusion, ask),
    ),
    status: statusOf(after),
    ranking: mind.ranked.map((r) => ({ ...r })),
    pairs,
    ask,
    conclusion,
    escalation:
      isEscalated(after) || after.escalation?.state === 'closed'
        ? summary(knowledge, after, role, setting, mind, pairs)
        : null,
  };
}

function statusOf(state: CaseState): Status {
  if (state.closed) return 'closed';
  if (isEscalated(state)) return 'escalated';
  return state.advice ? 'advised' : 'open';
}

function concluded(knowledge: Knowledge, state: CaseState, mind: Mind): Conclusion | null {
  if (!state.advice || standingStops(state).length > 0) return null;
  const refrigerant = valueOf(state, F.refrigerant);
  return conclusionOf(
    knowledge,
    state.advice.words,
    state.advice.fault,
    mind.ranked,
    refrigerant === 'r-600a' || refrigerant === 'r-290',
  );
}

function summary(
  knowledge: Knowledge,
  state: CaseState,
  role: Role,
  setting: Pick<Setting, 'caseId'>,
  mind: Mind,
  pairs: readonly { faults: readonly string[]; probability: number }[],
): Escalation | null {
  const useless = new Set(mind.judged.filter((j) => j.weights === null).map((j) => j.step));
  const open = candidatesOf(knowledge, state, () => ({ kind: 'open' }), useless).map((c) => c.step);
  const telling = open.filter((s) => s.kind === 'symptom' && s.needs.skill !== 'look');
  return escalationOf(knowledge, state, {
    caseId: setting.caseId,
    ranking: mind.ranked,
    pairs,
    judged: mind.judged,
    ruledOut: ruledOut(mind.model, mind.evidence, mind.belief, {
      below: knowledge.costs.ruledOutBelow,
      shareAbove: RULED_OUT_SHARE,
    }),
    conflicts: conflicts(mind.model, mind.evidence, mind.factors),
    notChecked: mostTelling(mind, telling),
  });
}

/** Steps by how much they would move the leading causes. */
function mostTelling(mind: Mind, steps: readonly Parameters<Mind['model']['chances']>[0][]): typeof steps {
  const spread = (step: (typeof steps)[number]): number => {
    const rows = mind.model.chances(step);
    let total = 0;
    for (const row of rows) {
      let mean = 0;
      for (let h = 0; h < row.length; h += 1) mean += (mind.belief.p[h] ?? 0) * (row[h] ?? 0);
      for (let h = 0; h < row.length; h += 1) total += (mind.belief.p[h] ?? 0) * Math.abs((row[h] ?? 0) - mean);
    }
    return total;
  };
  return [...steps]
    .map((step) => ({ step, s: spread(step) }))
    .sort((a, b) => b.s - a.s)
    .map(({ step }) => step);
}

function partsOf(
  knowledge: Knowledge,
  before: CaseState,
  after: CaseState,
  role: Role,
  setting: Setting,
  heard: Heard,
  mind: Mind,
  next: Next,
  conclusion: Conclusion | null,
  ask: Answer['ask'],
): Part[] {
  const parts: Part[] = setting.notes.map((n) => ({ say: 'note', text: n.text }));
  const text = (key: string, slots: Readonly<Record<string, string | number>> = {}): void =>
    void parts.push({ say: 'text', key, slots });
  const code = setting.caseId;
  const contact = setting.contact ?? '';

  for (const d of heard.dangers) parts.push({ say: 'hazard', hazard: d.hazard, level: d.level, asked: d.asked });
  const stops = standingStops(after);
  if (before.version === 0 && after.version > 0 && !setting.greeted && stops.length === 0)
    text('first-words', { person: fillPerson(knowledge, role, contact) });
  if (heard.reopened) text('closed-again');
  if (heard.takenBack) text(heard.takenBack === 'yes' ? 'hazard.taken-back' : 'hazard.kept');

  parts.push(...echoed(before, after, heard));
  for (const m of heard.measured) {
    const judged = judgedOf(mind.judged, m);
    if (judged) parts.push({ say: 'reading', judged });
  }
  if (heard.notSure) text('echo.not-sure');
  if (heard.steppedBack) text('back', { name: nameFor(knowledge, role, heard.steppedBack) });
  parts.push(...talked(knowledge, after, heard, mind, code));
  if (heard.result === 'fixed') text(after.closed ? 'fixed' : 'fixed.hazard');
  else if (heard.result) text(`result.${heard.result}`);

  if (stops.length > 0) {
    const fresh = heard.dangers.some((d) => d.level === 'stop');
    if (!fresh && !heard.takeBack && heard.takenBack === null) {
      text('hazard.still');
      for (const h of stops) parts.push({ say: 'hazard', hazard: h.hazard, level: 'stop', asked: false });
    }
    if (fresh) text('hazard.handed-over');
  }
  const opened =
    after.escalation &&
    (before.escalation?.id !== after.escalation.id || before.escalation.kind !== after.escalation.kind);
  const news =
    conclusion && (before.advice?.remedy !== after.advice?.remedy || before.advice?.fault !== after.advice?.fault);
  if (news && conclusion) {
    const second =
      likelyPairs(mind.model, mind.belief, 0.25)
        .find((p) => p.faults.includes(conclusion.fault))
        ?.faults.find((f) => f !== conclusion.fault) ?? null;
    if (conclusion.action === 'self-repair' && !after.told.includes('before-hands-on')) text('before-hands-on');
    parts.push({ say: 'conclusion', conclusion, second });
  }
  if (opened && after.escalation)
    parts.push({
      say: 'hand-over',
      kind: after.escalation.kind,
      code,
      path: setting.pagePath,
      contact: setting.contact,
      food: isFoodWarm(after) && !heard.dangers.some((d) => d.hazard === 'food-unsafe'),
    });
  else if (isEscalated(after) && stops.length === 0 && !conclusion && heard.newEvidence && ask === null)
    text('handover.stands');

  if (next.kind === 'ask') {
    if (next.warnings.length > 0 && !after.told.includes('before-hands-on')) text('before-hands-on');
    for (const key of next.warnings) parts.push({ say: 'warning', key });
  }
  if (heard.unclear) text(unclearKey(after, heard, before.version === 0));
  if (ask) {
    const step = knowledge.steps.get(ask.finding ?? ask.reading ?? '');
    const asksHow = heard.acts.has('how') && !heard.newEvidence;
    const how =
      ask.kind !== 'confirm' && step && step.needs.skill !== 'look' && !asksHow ? step.ask[wordsFor(role)].how : [];
    parts.push({ say: 'question', text: ask.text, how });
  } else if (before.version === 0 && next.kind === 'nothing') text('describe');
  return parts;
}

function fillPerson(knowledge: Knowledge, role: Role, contact: string): string {
  return composeReply(knowledge, { role, units: 'us' }, [{ say: 'text', key: 'reach-a-person', slots: { contact } }]);
}

const nameFor = (knowledge: Knowledge, role: Role, step: string): string =>
  knowledge.steps.get(step)?.name[wordsFor(role)] ?? step;

/** What was understood, said back: new facts in one line, each change in its own. */
function echoed(before: CaseState, after: CaseState, heard: Heard): Part[] {
  const changed = heard.withdrawn.filter((w) => w.finding !== null);
  const parts: Part[] = changed.map((w) => ({
    say: 'changed',
    finding: w.finding ?? '',
    was: String(w.value),
    now: after.facts[w.finding ?? '']?.values[0] ?? null,
  }));
  const names = new Set(
    heard.understood
      .filter((u) => u.value !== 'not-sure' && !changed.some((c) => c.finding === u.finding))
      .map((u) => u.finding),
  );
  const facts = [...names].flatMap((finding) => {
    const said = heard.understood.filter((u) => u.finding === finding);
    return after.facts[finding]
      ? [
          {
            finding,
            values: said.filter((u) => !u.denied).map((u) => u.value),
            denied: said.filter((u) => u.denied).map((u) => u.value),
          },
        ]
      : [];
  });
  if (facts.length > 0) parts.push({ say: 'facts', facts });
  return parts;
}

/** Answers to what the person asked: topics, why, how, repeat, what is known. */
function talked(knowledge: Knowledge, after: CaseState, heard: Heard, mind: Mind, code: string): Part[] {
  const parts: Part[] = [];
  const { acts } = heard;
  const pending = after.question?.finding ?? after.question?.reading ?? null;
  const text = (key: string, slots: Readonly<Record<string, string | number>> = {}): void =>
    void parts.push({ say: 'text', key, slots });
  if (heard.topic) parts.push({ say: 'topic', topic: heard.topic });
  if (heard.newEvidence && !heard.topic) return parts;
  if (acts.has('why')) {
    const step = pending ? knowledge.steps.get(pending) : undefined;
    text(step ? 'why' : 'why.nothing', { why: step?.ask[wordsFor(after.role)].why ?? '' });
  } else if (acts.has('what-is-that') && pending && !heard.topic)
    text('what-is-that', {
      name: knowledge.steps.get(pending)?.name[wordsFor(after.role)] ?? '',
      why: knowledge.steps.get(pending)?.ask[wordsFor(after.role)].why ?? '',
    });
  else if (acts.has('how') && !heard.topic) parts.push({ say: 'how', step: pending });
  if (acts.has('known')) {
    const facts = Object.entries(after.facts)
      .filter(([, f]) => !f.notSure && f.values.length > 0)
      .map(([finding, f]) => ({ finding, values: f.values, denied: [] }));
    parts.push({ say: 'known', facts, causes: mind.ranked.slice(0, 3) });
  }
  if (acts.has('back') && !heard.steppedBack) text('back.nothing');
  if (acts.has('start-over')) text('start-over');
  if (acts.has('wait')) text('wait', { code });
  if (acts.has('thanks')) text('thanks');
  if (acts.has('goodbye')) text('goodbye', { code });
  return parts;
}

const PATIENCE = 3;

function unclearKey(after: CaseState, heard: Heard, opening: boolean): string {
  if (heard.acts.has('other-appliance')) return 'other-appliance';
  if (heard.offTopic) return 'off-topic';
  if (after.misunderstood >= PATIENCE) return 'unclear.person';
  return opening || !after.question ? 'unclear.open' : 'unclear';
}
