/** The turn as the answer of the contract: what to say and in which order, and the case as it stands after it. */
import { promised } from '../case/follow-up.js';
import { isEscalated, standingStops, statusOf, valueOf } from '../case/look.js';
import type { CaseState } from '../case/state.js';
import { likelyPairs } from '../diagnosis/belief.js';
import { wordsFor, type Knowledge, type Role } from '../knowledge/facts.js';
import { NEEDED_FINDINGS as F } from '../knowledge/named.js';
import type { Answer, Conclusion } from '../message/outgoing.js';
import { toOut } from '../readings/judge.js';
import { askOut, asksOf, WATCH } from '../reply/ask.js';
import { composeReply, judgedOf, type Part } from '../reply/compose.js';
import { conclusionOf } from '../reply/conclusion.js';
import { hoursInWords, untilInWords } from '../reply/hours.js';
import { iceFigures, topicFigures } from '../reply/ice-figures.js';
import { readBack } from '../reply/read-back.js';
import { list } from '../reply/say.js';
import { mayTell } from '../safety/permit.js';
import type { Next } from './decide.js';
import type { Heard } from './hear.js';
import { asksPicture } from './picture.js';
import { isFoodWarm } from './record.js';
import { pairsOf, summaryOf } from './summary.js';
import type { Mind } from './think.js';

/** What only the surroundings know. */
export interface Setting {
  readonly conversation: string;
  readonly caseId: string;
  /** one line: how to reach a person */
  readonly contact: string | null;
  /** when the turn is made; ISO 8601 with offset */
  readonly now: string;
  /** the channel has said the first words already */
  readonly greeted: boolean;
  /** where the page of a hand-over goes when there is no desk; null with one */
  readonly pagePath: string | null;
  readonly notes: Answer['notes'];
  /** the picture of this message, and where it is; null without one, left out where none can be shown */
  readonly picture?: { readonly name: 'frost' | 'sensor'; readonly path: string } | null;
  /** the channel shows the drawing with the question, unasked */
  readonly drawn?: boolean;
}

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
  const conclusion = concluded(knowledge, after, role, mind);
  const pairs = pairsOf(mind);
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
        ? summaryOf(knowledge, after, setting.caseId, mind)
        : null,
  };
}

/** The standing advice for the one who speaks: a homeowner never gets a technician's steps. */
function concluded(knowledge: Knowledge, state: CaseState, role: Role, mind: Mind): Conclusion | null {
  if (!state.advice || standingStops(state).length > 0) return null;
  const { fault, remedy } = state.advice;
  const words = wordsFor(role);
  const refrigerant = valueOf(state, F.refrigerant);
  const figures = iceFigures({ knowledge, words, units: state.units ?? 'us' }, state, mind.judged, fault, remedy);
  return conclusionOf(
    knowledge,
    words,
    fault,
    mind.ranked,
    refrigerant === 'r-600a' || refrigerant === 'r-290',
    figures,
  );
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
  const parts: Part[] = [];
  const text = (key: string, slots: Readonly<Record<string, string | number>> = {}): void =>
    void parts.push({ say: 'text', key, slots });
  const code = setting.caseId;
  const contact = setting.contact ?? '';

  const stops = standingStops(after);
  const alarm = (level: 'stop' | 'caution'): void => {
    for (const d of heard.dangers)
      if (d.level === level)
        parts.push({
          say: 'hazard',
          hazard: d.hazard,
          level,
          asked: d.asked,
          told: level === 'caution' && stops.length > 0 ? 'not' : 'all',
        });
  };
  // a danger in this very message comes before anything that waited
  alarm('stop');
  for (const { text: waited } of setting.notes) parts.push({ say: 'note', text: waited });
  if (before.version === 0 && after.version > 0 && !setting.greeted && stops.length === 0)
    text('first-words', { person: fillPerson(knowledge, role, contact) });
  alarm('caution');
  if (heard.reopened && !after.closed) text('closed-again');
  if (heard.takenBack) text(heard.takenBack === 'yes' ? 'hazard.taken-back' : 'hazard.kept');

  if (heard.photos > 0) text('photos.kept');
  parts.push(...echoed(after, heard));
  for (const m of heard.measured) {
    const judged = judgedOf(mind.judged, m);
    if (judged) parts.push({ say: 'reading', judged });
  }
  const asker = before.escalation?.asked;
  if (asker && !after.escalation?.asked) text('desk.passed-on', { who: asker });
  if (heard.acts.has('stop-asking')) text('follow-up.stopped');
  if (heard.notSure) text('echo.not-sure');
  if (heard.steppedBack) text('back', { name: nameFor(knowledge, role, heard.steppedBack) });
  parts.push(...talked(knowledge, after, heard, mind, code));
  if (asksPicture(heard) && stops.length === 0) {
    const { name, path = '' } = setting.picture ?? {};
    text(name === 'frost' ? 'picture.told.frost' : name ? 'picture.told.sensor' : 'picture.told.none', { path });
  }
  if (heard.result === 'fixed') text(after.closed ? 'fixed' : 'fixed.hazard');
  else if (heard.result && before.advice) text(`result.${heard.result}`);

  if (stops.length > 0) {
    const fresh = heard.dangers.some((d) => d.level === 'stop');
    if (!fresh && !heard.takeBack && heard.takenBack === null) {
      text('hazard.still');
      for (const h of stops)
        parts.push({ say: 'hazard', hazard: h.hazard, level: 'stop', asked: false, told: 'first' });
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
      food: isFoodWarm(after) && !after.hazards.some((h) => h.hazard === 'food-unsafe') && heard.topic !== 'food-safe',
    });
  if (opened) parts.push({ say: 'note', text: readBack(knowledge, wordsFor(role), after, after.units ?? 'us') });
  else if (isEscalated(after) && stops.length === 0 && !conclusion && heard.newEvidence && ask === null)
    text('handover.stands');

  if (next.kind === 'ask') {
    if (next.warnings.length > 0 && !after.told.includes('before-hands-on')) text('before-hands-on');
    for (const key of next.warnings) parts.push({ say: 'warning', key });
  }
  if (heard.unclear && stops.length === 0) text(unclearKey(after, heard, ask !== null && before.version > 0));
  if (ask) {
    const step = knowledge.steps.get(ask.finding ?? ask.reading ?? '');
    const asksHow = heard.acts.has('how') && !heard.newEvidence;
    const explained = ask.kind !== 'confirm' && (step?.needs.skill !== 'look' || after.question?.value === WATCH);
    const how =
      explained && after.question && !asksHow ? (asksOf(knowledge, wordsFor(role), after.question)?.how ?? []) : [];
    if (ask.finding === F.frostPlace && ask.kind === 'choice' && setting.picture === null && !setting.drawn)
      text('picture.offer');
    if (news && conclusion?.action !== 'technician-visit' && ask.finding === F.result && ask.notBefore)
      text('conclude.later', { when: untilInWords(knowledge, wordsFor(role), setting.now, ask.notBefore) });
    if (news && !isEscalated(after)) parts.push(...followUpPromised(knowledge, role, after));
    parts.push({ say: 'question', text: ask.text, how });
  } else if (before.version === 0 && next.kind === 'nothing') text('describe');
  return parts;
}

/** When the case asks by itself after this advice. */
function followUpPromised(knowledge: Knowledge, role: Role, state: CaseState): Part[] {
  const hours = promised(knowledge, state).map((p) => hoursInWords(knowledge, wordsFor(role), p.hours));
  return hours.length > 0
    ? [{ say: 'text', key: 'follow-up.promise', slots: { list: list(knowledge, wordsFor(role), hours) } }]
    : [];
}

function fillPerson(knowledge: Knowledge, role: Role, contact: string): string {
  return composeReply(knowledge, { role, units: 'us' }, [{ say: 'text', key: 'reach-a-person', slots: { contact } }]);
}

const nameFor = (knowledge: Knowledge, role: Role, step: string): string =>
  knowledge.steps.get(step)?.name[wordsFor(role)] ?? step;

/** What was understood, said back: new facts in one line, each change in its own. */
function echoed(after: CaseState, heard: Heard): Part[] {
  const changed = heard.withdrawn.filter((w) => w.finding !== null);
  const parts: Part[] = changed.map((w) => ({
    say: 'changed',
    finding: w.finding ?? '',
    was: String(w.value),
    now: after.facts[w.finding ?? '']?.values[0] ?? null,
  }));
  // a tap needs no echo: the person saw what was tapped
  const names = new Set(
    heard.understood
      .filter((u) => !heard.tapped && u.value !== 'not-sure' && !changed.some((c) => c.finding === u.finding))
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
  const topic = mayTell(knowledge, after, heard.topic) ? heard.topic : null;
  if (topic) parts.push({ say: 'topic', topic });
  const words = wordsFor(after.role);
  for (const line of topicFigures({ knowledge, words, units: after.units ?? 'us' }, after, topic))
    parts.push({ say: 'note', text: line });
  if (heard.newEvidence && !heard.topic) return parts;
  if (acts.has('why')) {
    const step = pending ? knowledge.steps.get(pending) : undefined;
    text(step ? 'why' : 'why.nothing', { why: step?.ask[wordsFor(after.role)].why ?? '' });
  } else if (acts.has('what-is-that') && pending && !heard.topic)
    text('what-is-that', {
      name: knowledge.steps.get(pending)?.name[wordsFor(after.role)] ?? '',
      why: knowledge.steps.get(pending)?.ask[wordsFor(after.role)].why ?? '',
    });
  else if (acts.has('how') && !heard.topic)
    parts.push({
      say: 'how',
      lines: after.question ? (asksOf(knowledge, wordsFor(after.role), after.question)?.how ?? []) : [],
    });
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

function unclearKey(after: CaseState, heard: Heard, asked: boolean): string {
  if (heard.acts.has('other-appliance')) return 'other-appliance';
  if (heard.offTopic) return 'off-topic';
  if (after.misunderstood >= PATIENCE) return 'unclear.person';
  return asked ? 'unclear' : 'unclear.open';
}
