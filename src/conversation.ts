/**
 * One case at a time, in order: load, fold, turn, append, deliver. A message is answered only after it is durably
 * stored; the same message again gets the same answer. What it needs of the store and the outside comes in.
 */
import { randomBytes, randomUUID } from 'node:crypto';
import type { CaseEvent } from './case/events.js';
import { fold, newCase, type CaseState } from './case/state.js';
import { pageOf } from './handoff/page.js';
import { wordsFor, type Knowledge, type Role } from './knowledge/facts.js';
import type { Incoming, InvalidInput } from './message/incoming.js';
import type { Answer } from './message/outgoing.js';
import type { NamedPicture } from './pictures/picture.js';
import { accept } from './readings/accept.js';
import { fill } from './reply/say.js';
import { listen } from './safety/listen.js';
import { turn, type Turned } from './turn.js';

/** The store, as far as a talk needs it. */
export interface Keeps {
  readonly caseOf: (channel: string, conversation: string) => string | null;
  readonly load: (caseId: string) => CaseState | null;
  readonly answerTo: (caseId: string, messageId: string) => Answer | null;
  /** Runs work while no other process can write to the store. */
  readonly alone: <T>(work: () => T) => T;
  readonly append: (turn: {
    caseId: string;
    channel: string;
    conversation: string;
    from: number;
    incoming: Incoming;
    at: string;
    events: readonly CaseEvent[];
    state: CaseState;
    answer: Answer;
    outbox: readonly { id: string; kind: string; body: string }[];
  }) => 'stored' | 'conflict';
  readonly lastAnswer: (caseId: string) => Answer | null;
  readonly deliver: (
    channel: string,
    at: string,
    write: (item: { caseId: string; kind: string; body: string }) => boolean,
  ) => void;
}

export interface Surroundings {
  readonly channel: string;
  readonly contact: string | null;
  readonly units: 'us' | 'si' | null;
  /** the channel says its first words itself, before the person speaks */
  readonly greeted: boolean;
  /** where the page of a case goes without a desk, or null with one */
  readonly pagePath: (caseId: string) => string | null;
  readonly writePage: (caseId: string, page: string) => void;
  /** where a picture of a case goes, and how it gets there; left out where none can be shown */
  readonly picturePath?: (caseId: string, name: NamedPicture['name']) => string;
  readonly onPicture?: (caseId: string, picture: NamedPicture) => void;
  /** what went wrong and was survived, for the log */
  readonly onTrouble: (what: string, error: unknown, caseId: string) => void;
  readonly now?: () => Date;
}

export type Handled =
  { readonly ok: true; readonly answer: Answer } | { readonly ok: false; readonly error: InvalidInput };

const TRIES = 3;

export class Conversations {
  constructor(
    private readonly knowledge: Knowledge,
    private readonly store: Keeps,
    private readonly around: Surroundings,
  ) {}

  /** One message to its answer. Throws only for the store's own trouble. */
  handle(incoming: Incoming): Handled {
    for (let attempt = 1; attempt <= TRIES; attempt += 1) {
      const stored = this.stored(incoming);
      if (stored) return { ok: true, answer: stored };
      const wrong = check(this.knowledge, incoming);
      if (wrong) return { ok: false, error: wrong };
      // the last time no other process may write in between
      const work = (): Answer | null => this.attempt(incoming);
      const answer = attempt < TRIES ? work() : this.store.alone(() => this.stored(incoming) ?? work());
      if (answer) {
        this.deliver();
        return { ok: true, answer };
      }
    }
    throw new Error('a case changed while no other process could write');
  }

  /** The answer that this message got before, whatever else it says now. */
  private stored(incoming: Incoming): Answer | null {
    if (incoming.id === null) return null;
    const known = this.store.caseOf(this.around.channel, incoming.conversation);
    return known === null ? null : this.store.answerTo(known, incoming.id);
  }

  /** Load, turn, append; null when another process was faster. */
  private attempt(incoming: Incoming): Answer | null {
    const { channel } = this.around;
    const known = this.store.caseOf(channel, incoming.conversation);
    const caseId = known ?? newCode();
    const now = (this.around.now?.() ?? new Date()).toISOString();
    const at = incoming.at ?? now;
    const kept = known ? this.store.load(known) : null;
    const before = kept ?? { ...newCase(at, incoming.from.role), units: this.around.units };
    const { events, state, answer, picture } = this.safely(incoming, before, caseId, now);
    // a poll opens nothing and changes nothing; one with an id is kept, so that it gets the same answer again
    const poll = incoming.said.kind === 'poll';
    if (poll && (!kept || incoming.id === null)) return answer;
    const page =
      answer.escalation && !poll && this.around.pagePath(caseId)
        ? [{ id: `page-${caseId}`, kind: 'page', body: pageOf(this.knowledge, answer.escalation, state.units ?? 'us') }]
        : [];
    const result = this.store.append({
      caseId,
      channel,
      conversation: incoming.conversation,
      from: before.version,
      incoming,
      at,
      events: poll ? [] : events,
      state: poll ? before : state,
      answer,
      outbox: page,
    });
    if (result !== 'stored') return null;
    if (picture) this.around.onPicture?.(caseId, picture);
    return answer;
  }

  private safely(incoming: Incoming, before: CaseState, caseId: string, now: string): Turned {
    const { picturePath } = this.around;
    const moment = {
      ...(picturePath ? { picturePath: (name: NamedPicture['name']) => picturePath(caseId, name) } : {}),
      caseId,
      now,
      newId: () => randomUUID(),
      contact: this.around.contact,
      greeted: this.around.greeted,
      pagePath: this.around.pagePath(caseId),
      notes: [],
    };
    try {
      return turn(this.knowledge, before, incoming, moment);
    } catch (error) {
      this.around.onTrouble('a turn failed, the message is kept', error, caseId);
      return this.trouble(incoming, before, caseId, now);
    }
  }

  /** A turn threw: the message is kept, what stood before stands, the person is pointed to a person. */
  private trouble(incoming: Incoming, before: CaseState, caseId: string, now: string): Turned {
    const at = incoming.at ?? now;
    const { id, role } = incoming.from;
    const who = { at, by: id };
    const events: CaseEvent[] = [];
    if (before.version === 0) {
      events.push({ type: 'opened', ...who, role });
      if (before.units) events.push({ type: 'units-chosen', ...who, units: before.units });
    } else if (before.closed) events.push({ type: 'reopened', ...who });
    events.push({ type: 'heard', ...who, role, kind: incoming.said.kind });
    // danger is heard even now: it depends on nothing that can have failed
    const dangers = incoming.said.kind === 'text' ? listen(this.knowledge, incoming.said.text, role) : [];
    for (const { hazard, level, asked } of dangers)
      if (!asked) events.push({ type: 'hazard-raised', ...who, hazard, level, silent: false });
    const stood = before.version === 0 || before.closed ? null : this.store.lastAnswer(caseId);
    const shares = [...this.knowledge.faults.values()]
      .map((f) => ({ fault: f.id, probability: f.share.value / 100 }))
      .sort((a, b) => b.probability - a.probability);
    const answer: Answer = {
      case: incoming.conversation,
      caseId,
      understood: [],
      withdrawn: [],
      readings: [],
      hazards: dangers.map(({ hazard, level }) => ({ hazard, level })),
      notes: [],
      offTopic: false,
      wantsPerson: false,
      reply: this.safeWords(role, dangers),
      status: stood?.status ?? 'open',
      ranking: stood?.ranking ?? shares,
      pairs: stood?.pairs ?? [],
      ask: stood?.ask ?? null,
      conclusion: stood?.conclusion ?? null,
      escalation: stood?.escalation ?? null,
    };
    return { events, state: fold(before, events), answer };
  }

  /** What is said when nothing else can be: a danger's steps as they stand in the knowledge, and how to reach a person. */
  private safeWords(role: Role, dangers: readonly { readonly hazard: string }[]): string {
    const words = wordsFor(role);
    const contact = this.around.contact ?? '';
    const steps = dangers.flatMap((d) => this.knowledge.hazards.get(d.hazard)?.now[words] ?? []);
    return [...steps, fill(this.knowledge.words.get('trouble')?.[words] ?? contact, { contact })].join('\n');
  }

  /** Pages that wait to be written: after each turn, and once at the start for what a crash left. */
  deliver(): void {
    const { channel, writePage, onTrouble } = this.around;
    this.store.deliver(channel, (this.around.now?.() ?? new Date()).toISOString(), ({ kind, caseId, body }) => {
      if (kind !== 'page') return false;
      try {
        writePage(caseId, body);
        return true;
      } catch (error) {
        onTrouble('its page could not be written, the next turn tries again', error, caseId);
        return false;
      }
    });
  }
}

const ALPHABET = '23456789ABCDEFGHJKMNPQRSTVWXYZ';

/** Eight characters of 30, none that look alike: a take-up code that cannot be guessed. */
function newCode(): string {
  return [...randomBytes(8)].map((b) => ALPHABET[b % ALPHABET.length]).join('');
}

/** What the contract's shape cannot know: findings, values, parts, possible values. */
function check(knowledge: Knowledge, incoming: Incoming): InvalidInput | null {
  const { said } = incoming;
  if (said.kind === 'reading') {
    const accepted = accept(knowledge, said.reading);
    return accepted.ok ? null : { field: accepted.field, message: accepted.message };
  }
  if (said.kind !== 'answer') return null;
  const values = typeof said.value === 'string' ? [said.value] : said.value;
  const reading = knowledge.readings.get(said.finding);
  if (reading) {
    const allowed = reading.quantity === 'continuity' ? ['closed', 'open', 'not-sure'] : ['not-sure'];
    const wrong = values.length !== 1 || !allowed.includes(values[0] ?? '');
    return wrong
      ? {
          field: 'answer.value',
          message: `expected one of ${allowed.join(', ')}; a measured number comes as a reading`,
        }
      : null;
  }
  const finding = knowledge.findings.get(said.finding);
  if (!finding) return { field: 'answer.finding', message: `no finding is called "${said.finding}"` };
  const allowed = [...finding.values, 'not-sure'];
  const bad = values.find((v) => !allowed.includes(v));
  if (bad !== undefined) return { field: 'answer.value', message: `"${bad}" is not one of ${allowed.join(', ')}` };
  if (values.length > 1 && !finding.many)
    return { field: 'answer.value', message: `${said.finding} holds one value, not a list` };
  if (values.length > 1 && values.includes('not-sure'))
    return { field: 'answer.value', message: 'not-sure stands alone' };
  return null;
}
