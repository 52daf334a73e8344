/** What a message says, as events: danger first, then facts, readings and requests. */
import type { CaseEvent, Measurement, Question } from '../case/events.js';
import { standingStops } from '../case/look.js';
import { fold, type CaseState } from '../case/state.js';
import type { Knowledge, Role } from '../knowledge/facts.js';
import { NEEDED_FINDINGS as F } from '../knowledge/named.js';
import type { Incoming, ReadingIn } from '../message/incoming.js';
import type { Understood, Withdrawn } from '../message/outgoing.js';
import { accept } from '../readings/accept.js';
import type { Heard as Danger } from '../safety/listen.js';
import { permit } from '../safety/permit.js';
import { confirmOf, proposeAnswer, proposeFacts, proposeReading, type Speaker } from '../understand/propose.js';
import type { Act } from '../understand/talk.js';
import { understand, type Understanding } from '../understand/understand.js';
import { clockOf } from './clock.js';
import { dangersIn } from './doubt.js';
import { readingsOf } from './hear-readings.js';
import { afterResult, resultOf, stepBack, type Result } from './how-it-went.js';

export interface Heard {
  readonly events: readonly CaseEvent[];
  readonly dangers: readonly Danger[];
  readonly understood: readonly Understood[];
  readonly withdrawn: readonly Withdrawn[];
  /** the readings of this message, in the order taken */
  readonly measured: readonly Measurement[];
  /** dangers that are not plain: asked about before anything else */
  readonly doubt: readonly string[];
  readonly confirm: Question | null;
  /** bare degrees whose scale has to be asked */
  readonly unitless: number | null;
  readonly acts: ReadonlySet<Act>;
  readonly topic: string | null;
  readonly notSure: boolean;
  readonly offTopic: boolean;
  readonly unclear: boolean;
  /** an answer chosen, not said in words */
  readonly tapped: boolean;
  readonly wantsPerson: boolean;
  /** the person says that the danger was a mistake, and has not confirmed it yet */
  readonly takeBack: boolean;
  readonly takenBack: 'yes' | 'no' | null;
  readonly result: Result | null;
  readonly reopened: boolean;
  /** what was taken back by going one step back */
  readonly steppedBack: string | null;
  /** something that moves the belief, or may */
  readonly newEvidence: boolean;
  /** how many came with it */
  readonly photos: number;
}

const quiet: Omit<Heard, 'events'> = {
  dangers: [],
  understood: [],
  withdrawn: [],
  measured: [],
  doubt: [],
  confirm: null,
  unitless: null,
  acts: new Set(),
  topic: null,
  notSure: false,
  offTopic: false,
  unclear: false,
  tapped: false,
  wantsPerson: false,
  takeBack: false,
  takenBack: null,
  result: null,
  reopened: false,
  steppedBack: null,
  newEvidence: false,
  photos: 0,
};

export function hear(knowledge: Knowledge, before: CaseState, incoming: Incoming, at: string): Heard {
  const { said, from } = incoming;
  if (said.kind === 'poll') return { ...quiet, events: [] };
  const who: Speaker = { at, by: from.id };
  const opening: CaseEvent[] = [];
  if (before.version === 0) {
    opening.push({ type: 'opened', ...who, role: from.role });
    if (before.units) opening.push({ type: 'units-chosen', ...who, units: before.units });
  } else if (before.closed) opening.push({ type: 'reopened', ...who });
  opening.push({ type: 'heard', ...who, role: from.role, kind: said.kind }, ...clockOf(before, incoming, at));
  const state = fold(before, opening);
  const reopened = before.closed;
  const body = hearBody(knowledge, state, incoming, said, who);
  const photos = (incoming.photos ?? []).map((ref): CaseEvent => ({
    type: 'photo-kept',
    ...who,
    ref,
    of: before.question?.finding ?? before.question?.reading ?? null,
  }));
  return {
    ...body,
    reopened,
    newEvidence: body.newEvidence || reopened || before.version === 0,
    events: [...opening, ...body.events, ...photos],
    photos: photos.length,
  };
}

function hearBody(
  knowledge: Knowledge,
  state: CaseState,
  incoming: Incoming,
  said: Exclude<Incoming['said'], { kind: 'poll' }>,
  who: Speaker,
): Heard {
  switch (said.kind) {
    case 'text':
      return hearText(knowledge, state, incoming, said.text, who);
    case 'answer':
      return hearAnswer(knowledge, state, said.finding, [said.value].flat(), who);
    case 'reading':
      return hearReading(knowledge, state, said.reading, who);
    case 'photos':
      return { ...quiet, events: [] };
  }
}

/** An answer's finding and values, as they were checked before the turn. */
function hearAnswer(
  knowledge: Knowledge,
  state: CaseState,
  finding: string,
  values: readonly string[],
  who: Speaker,
): Heard {
  if (knowledge.readings.has(finding)) {
    const value = values[0];
    if (value === 'not-sure')
      return {
        ...quiet,
        notSure: true,
        newEvidence: true,
        events: [{ type: 'unmeasurable', ...who, reading: finding }],
        understood: [understoodAnswer(finding, value)],
      };
    const [part, quantity] = splitReading(finding);
    return hearReading(
      knowledge,
      state,
      { part, quantity: quantity as ReadingIn['quantity'], value: value === 'closed' ? 'closed' : 'open' },
      who,
    );
  }
  const proposal = proposeAnswer(knowledge, state, finding, values, who);
  const result = finding === F.result ? resultOf(values[0]) : null;
  return {
    ...quiet,
    ...proposal,
    events: [...proposal.events, ...afterResult(state, result, who)],
    notSure: values.includes('not-sure'),
    tapped: true,
    result,
    newEvidence: true,
  };
}

const understoodAnswer = (finding: string, value: string): Understood => ({
  finding,
  value,
  denied: false,
  confidence: 1,
  span: null,
});

function splitReading(id: string): [string, string] {
  const dot = id.lastIndexOf('.');
  return [id.slice(0, dot), id.slice(dot + 1)];
}

function hearReading(knowledge: Knowledge, state: CaseState, reading: ReadingIn, who: Speaker): Heard {
  const accepted = accept(knowledge, reading);
  if (!accepted.ok) throw new Error(`a reading reached the turn unchecked: ${accepted.field} ${accepted.message}`);
  const event: CaseEvent = { type: 'measured', ...who, measurement: accepted.measurement };
  const { withdrawn } = proposeReading(state, fold(state, [event]), accepted.measurement, who);
  return { ...quiet, events: [event], withdrawn, measured: [accepted.measurement], newEvidence: true };
}

function hearText(knowledge: Knowledge, state: CaseState, incoming: Incoming, text: string, who: Speaker): Heard {
  const { role } = incoming.from;
  const u = understand(knowledge, state, role, text, who.at);
  const { dangers, doubt, answer } = dangersIn(knowledge, state, role, text, u);
  const events: CaseEvent[] = dangers
    .filter((d) => !d.asked)
    .map((d) => ({ type: 'hazard-raised', ...who, hazard: d.hazard, level: d.level, silent: d.silent }));
  // how a repair went is only told where one was advised: "it did the same thing" before that is history
  // and what is only asked about ("should I pull the plug?") is not done
  const isDone = (finding: string): boolean =>
    !u.acts.has('not-done-yet') || knowledge.findings.get(finding)?.kind !== 'act';
  // "no more reminders" is no answer to what is asked
  const peace = u.acts.has('stop-asking') ? state.question?.finding : null;
  const found = u.found.filter(
    (f) => (state.advice !== null || f.finding !== F.result) && isDone(f.finding) && f.finding !== peace,
  );
  const facts = proposeFacts(knowledge, state, found, u.correction, who);
  events.push(...facts.events);
  const q = state.question;
  if (u.notSure && q?.finding && q.kind !== 'confirm')
    events.push(...proposeAnswer(knowledge, state, q.finding, ['not-sure'], who).events);
  if (u.notSure && q?.reading) events.push({ type: 'unmeasurable', ...who, reading: q.reading });
  const readings = readingsOf(knowledge, state, u, text, who);
  events.push(...readings.events);
  if (u.family) events.push({ type: 'family-named', ...who, family: u.family });

  const stops = standingStops(state);
  const confirming = q?.about === 'hazard-taken-back';
  // a danger told again, or "not sure", takes nothing back
  const sure = confirming && dangers.length === 0 && !u.acts.has('not-sure');
  const takenBack = sure && (u.picked === 'yes' || u.picked === 'no') ? u.picked : null;
  if (takenBack === 'yes') {
    events.push(
      ...stops.map((h): CaseEvent => ({ type: 'hazard-cleared', ...who, hazard: h.hazard, how: 'taken-back' })),
    );
    if (state.escalation?.kind === 'hazard') events.push({ type: 'escalation-ended', ...who, how: 'fixed' });
  }
  const nothingNew = dangers.length === 0 && found.length === 0 && readings.measured.length === 0;
  const takeBack = stops.length > 0 && !confirming && dangers.length === 0 && u.acts.has('taken-back');

  const result =
    resultOf(found.find((f) => f.finding === F.result)?.value) ??
    (u.acts.has('fixed') && nothingNew && !u.acts.has('correction') ? 'fixed' : null);
  events.push(...afterResult(fold(state, events), result, who));
  const wantsPerson = u.acts.has('person') && takenBack === null;
  if (wantsPerson) events.push({ type: 'person-asked', ...who });
  if (u.acts.has('stop-asking')) events.push({ type: 'follow-ups-stopped', ...who });
  const back = u.acts.has('back') && nothingNew ? stepBack(state, who) : null;
  if (back) events.push(back.event);
  const unclear =
    u.unclear && dangers.length === 0 && takenBack === null && !takeBack && answer === null && doubt.length === 0;
  if (unclear) events.push({ type: 'misunderstood', at: who.at });
  return {
    events,
    dangers,
    understood: [
      ...facts.understood,
      ...(u.notSure && q ? [understoodAnswer(q.finding ?? q.reading ?? '', 'not-sure')] : []),
    ],
    withdrawn: [...facts.withdrawn, ...readings.withdrawn, ...(back?.withdrawn ?? [])],
    measured: readings.measured,
    doubt,
    confirm: facts.confirm ?? (u.correction ? null : doubtOf(knowledge, state, role, u, facts.events)),
    unitless:
      u.unitless !== null && readings.measured.every((m) => m.atC === null) && q?.about !== 'degrees'
        ? u.unitless
        : null,
    acts: u.acts,
    topic: wantsPerson ? null : u.topic,
    notSure: u.notSure,
    offTopic: u.offTopic && dangers.length === 0,
    unclear,
    tapped: false,
    wantsPerson,
    takeBack,
    takenBack,
    result,
    reopened: false,
    photos: 0,
    steppedBack: back?.name ?? null,
    newEvidence:
      found.length > 0 ||
      readings.measured.length > 0 ||
      u.notSure ||
      u.family !== null ||
      takenBack === 'yes' ||
      answer !== null ||
      back !== null ||
      (result !== null && result !== 'fixed'),
  };
}

/** What may have been said and the case does not hold yet, as a question. */
function doubtOf(
  knowledge: Knowledge,
  state: CaseState,
  role: Role,
  u: Understanding,
  now: readonly CaseEvent[],
): Question | null {
  if (state.advice) return null;
  const told = new Set(now.flatMap((e) => (e.type === 'found' ? [e.finding] : [])));
  // a question about it is a question: nobody is asked what they may not do
  const may = (finding: string): boolean => {
    const step = knowledge.steps.get(finding);
    return step !== undefined && permit(knowledge, state, role, step).kind === 'allow';
  };
  const open = u.doubtful.find(
    (d) => !state.facts[d.finding] && !told.has(d.finding) && d.finding !== F.result && may(d.finding),
  );
  return open ? confirmOf(open.finding, open.value, null) : null;
}
