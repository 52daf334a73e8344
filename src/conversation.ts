/**
 * One case at a time, in order: load, fold, turn, append, deliver. A message is answered only after it is durably
 * stored; the same message again gets the same answer. What it needs of the store and the outside comes in.
 */
import { randomBytes, randomUUID } from 'node:crypto';
import type { CaseEvent } from './case/events.js';
import { fold, newCase, type CaseState } from './case/state.js';
import { pageOf } from './handoff/page.js';
import { wordsFor, type Knowledge } from './knowledge/facts.js';
import type { Incoming, InvalidInput } from './message/incoming.js';
import type { Answer } from './message/outgoing.js';
import { accept } from './readings/accept.js';
import { say } from './reply/say.js';
import { turn, type Turned } from './turn.js';

/** The store, as far as a talk needs it. */
export interface Keeps {
  readonly caseOf: (channel: string, conversation: string) => string | null;
  readonly load: (caseId: string) => CaseState | null;
  readonly answerTo: (caseId: string, messageId: string) => Answer | null;
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
  readonly waiting: (channel: string) => { id: string; caseId: string; kind: string; body: string }[];
  readonly delivered: (id: string, at: string) => void;
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
  /** what went wrong inside a turn, for the log */
  readonly onTrouble: (error: unknown, caseId: string) => void;
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
    const wrong = check(this.knowledge, incoming);
    if (wrong) return { ok: false, error: wrong };
    for (let attempt = 1; ; attempt += 1) {
      const answer = this.attempt(incoming);
      if (answer) {
        this.deliver();
        return { ok: true, answer };
      }
      if (attempt >= TRIES)
        throw new Error('the case is changed by another process again and again: try again in a moment');
    }
  }

  private attempt(incoming: Incoming): Answer | null {
    const { channel } = this.around;
    const known = this.store.caseOf(channel, incoming.conversation);
    const caseId = known ?? newCode();
    if (known && incoming.id !== null) {
      const stored = this.store.answerTo(known, incoming.id);
      if (stored) return stored;
    }
    const now = (this.around.now?.() ?? new Date()).toISOString();
    const at = incoming.at ?? now;
    const kept = known ? this.store.load(known) : null;
    const before = kept ?? { ...newCase(at, incoming.from.role), units: this.around.units };
    if (incoming.said.kind === 'poll' && !kept && before.version === 0)
      return this.polled(incoming, before, caseId, now);
    const turned = this.safely(incoming, before, caseId, now);
    const { escalation } = turned.answer;
    const page =
      escalation && this.around.pagePath(caseId)
        ? [{ id: `page-${caseId}`, kind: 'page', body: pageOf(this.knowledge, escalation, turned.state.units ?? 'us') }]
        : [];
    const stored = this.store.append({
      caseId,
      channel,
      conversation: incoming.conversation,
      from: before.version,
      incoming,
      at,
      events: turned.events,
      state: turned.state,
      answer: turned.answer,
      outbox: page,
    });
    return stored === 'stored' ? turned.answer : null;
  }

  /** A poll of a conversation that is not open yet opens nothing. */
  private polled(incoming: Incoming, before: CaseState, caseId: string, now: string): Answer {
    return this.safely(incoming, before, caseId, now).answer;
  }

  private safely(incoming: Incoming, before: CaseState, caseId: string, now: string): Turned {
    const moment = {
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
      this.around.onTrouble(error, caseId);
      return this.trouble(incoming, before, caseId, now);
    }
  }

  /** A turn threw: the message is kept, the case goes on, the person is pointed to a person. */
  private trouble(incoming: Incoming, before: CaseState, caseId: string, now: string): Turned {
    const at = incoming.at ?? now;
    const { id, role } = incoming.from;
    const opened: CaseEvent[] = before.version === 0 ? [{ type: 'opened', at, by: id, role }] : [];
    const events: CaseEvent[] = [...opened, { type: 'heard', at, by: id, role, kind: incoming.said.kind }];
    const shares = [...this.knowledge.faults.values()]
      .map((f) => ({ fault: f.id, probability: f.share.value / 100 }))
      .sort((a, b) => b.probability - a.probability);
    const answer: Answer = {
      case: incoming.conversation,
      caseId,
      understood: [],
      withdrawn: [],
      readings: [],
      hazards: [],
      notes: [],
      offTopic: false,
      wantsPerson: false,
      reply: say(this.knowledge, wordsFor(role), 'trouble', { contact: this.around.contact ?? '' }),
      status: 'open',
      ranking: shares,
      pairs: [],
      ask: null,
      conclusion: null,
      escalation: null,
    };
    return { events, state: fold(before, events), answer };
  }

  /** Pages that wait to be written: after each turn, and once at the start for what a crash left. */
  deliver(): void {
    for (const item of this.store.waiting(this.around.channel)) {
      if (item.kind !== 'page') continue;
      this.around.writePage(item.caseId, item.body);
      this.store.delivered(item.id, (this.around.now?.() ?? new Date()).toISOString());
    }
  }
}

const ALPHABET = '23456789ABCDEFGHJKMNPQRSTVWXYZ';

/** Eight characters of 31, none that look alike: a take-up code that cannot be guessed. */
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
