/**
 * One case at a time, in order: load, fold, turn, append, deliver. A message is answered only after it is durably
 * stored; the same message again gets the same answer. What it needs of the store and the outside comes in.
 */
import { randomInt, randomUUID } from 'node:crypto';
import { isNews, type CaseEvent } from './case/events.js';
import { fold, newCase, type CaseState } from './case/state.js';
import { check } from './conversation/check.js';
import { keep, type DeskKeeps } from './conversation/desk-work.js';
import { dueAt, fallenDue, machineOffset } from './conversation/fallen-due.js';
import { notesOf } from './conversation/news.js';
import { PAGE, pageId, pagesIn, pagesOf } from './conversation/pages.js';
import { stepsAt, wordsFor, type Knowledge, type Role } from './knowledge/facts.js';
import type { Incoming, InvalidInput } from './message/incoming.js';
import type { Answer } from './message/outgoing.js';
import type { Outgoing } from './message/post.js';
import type { NamedPicture } from './pictures/picture.js';
import { fill } from './reply/say.js';
import { listen } from './safety/listen.js';
import { turn, type Moment, type Turned } from './turn.js';

/** The store, as far as a talk needs it. */
export interface Keeps extends Pick<DeskKeeps, 'happen'> {
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
    outbox: readonly Outgoing[];
    dueAt: string | null;
    reader: { person: string; from: number | null; to: number } | null;
  }) => 'stored' | 'conflict';
  /** what happened since this person was last told */
  readonly newsFor: (
    caseId: string,
    person: string,
  ) => { readonly mark: number | null; readonly upTo: number; readonly events: readonly CaseEvent[] };
  /** the cases that had something to say by this moment (UTC) */
  readonly due: (channel: string, until: string) => readonly string[];
  readonly lastAnswer: (caseId: string) => Answer | null;
  readonly deliver: (
    channel: string,
    at: string,
    write: (item: { caseId: string; kind: string; body: string }) => boolean,
  ) => void;
}

/** An answer as it is about to be stored, for a channel that delivers it from the outbox. */
export interface Made {
  readonly caseId: string;
  readonly incoming: Incoming;
  readonly state: CaseState;
  readonly events: readonly CaseEvent[];
  readonly answer: Answer;
  readonly picture: NamedPicture | null;
}

export interface Surroundings {
  readonly channel: string;
  readonly contact: string | null;
  readonly units: 'us' | 'si' | null;
  /** the channel says its first words itself, before the person speaks */
  readonly greeted: boolean;
  /** the channel shows the drawing of frost places with their question, unasked */
  readonly drawn?: boolean;
  /** where the page of a case goes without a desk, or null with one */
  readonly pagePath: (caseId: string) => string | null;
  /** `html` is null for a page that an earlier version left waiting */
  readonly writePage: (caseId: string, markdown: string, html: string | null) => void;
  /** where a picture of a case goes, and how it gets there; left out where none can be shown */
  readonly picturePath?: (caseId: string, name: NamedPicture['name']) => string;
  readonly onPicture?: (caseId: string, picture: NamedPicture) => void;
  /** what the channel posts for an answer; left out where it shows the answer itself */
  readonly posts?: (made: Made) => readonly Outgoing[];
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
    const clock = this.now();
    const now = clock.toISOString();
    const at = incoming.at ?? now;
    const poll = incoming.said.kind === 'poll';
    const { id: person, role } = incoming.from;
    const kept = known ? this.store.load(known) : null;
    const opened = kept ?? { ...newCase(at, role), units: this.around.units };
    // what fell due while nobody spoke, and what the person was not told yet
    const fallen = fallenDue(this.knowledge, opened, at, machineOffset(clock), !poll);
    const before = fold(opened, fallen.events);
    const news = known ? this.store.newsFor(known, person) : NO_NEWS;
    const waiting = [...news.events, ...fallen.events.filter(isNews)];
    const notes = notesOf(this.knowledge, wordsFor(role), before, waiting);
    const turned = this.safely(incoming, before, caseId, now, {
      notes,
      // who writes to a closed case opens it with news of their own
      followUp: fallen.ask && (poll || !before.closed) ? { about: fallen.ask.about, place: fallen.ask.place } : null,
      deskAsks: waiting.some((e) => e.type === 'desk-asked'),
    });
    const { state, answer, picture } = turned;
    const events = [...fallen.events, ...turned.events];
    const told = answer.notes.length > 0;
    // a poll opens nothing and changes nothing but what fell due; one with an id gets the same answer again
    if (poll && (!kept || (incoming.id === null && !told && events.length === 0))) return answer;
    const page = events.length > 0 ? this.page(caseId, state, answer) : [];
    const result = this.store.append({
      caseId,
      channel,
      conversation: incoming.conversation,
      from: opened.version,
      incoming,
      at,
      events,
      state,
      answer,
      outbox: [
        ...page,
        ...(this.around.posts?.({ caseId, incoming, state, events, answer, picture: picture ?? null }) ?? []),
      ],
      dueAt: dueAt(this.knowledge, state, machineOffset(clock)),
      reader: told || news.mark === null ? { person, from: news.mark, to: told ? state.version : news.upTo } : null,
    });
    if (result !== 'stored') return null;
    if (picture) this.around.onPicture?.(caseId, picture);
    return answer;
  }

  /** The pages of a hand-over; an answer is never kept back for them. */
  private page(caseId: string, state: CaseState, { escalation }: Answer): Outgoing[] {
    if (!escalation || this.around.pagePath(caseId) === null) return [];
    try {
      return [{ id: pageId(caseId), kind: PAGE, body: pagesOf(this.knowledge, state, escalation) }];
    } catch (error) {
      this.around.onTrouble('its page could not be made', error, caseId);
      return [];
    }
  }

  private safely(
    incoming: Incoming,
    before: CaseState,
    caseId: string,
    now: string,
    waiting: Pick<Moment, 'notes' | 'followUp' | 'deskAsks'>,
  ): Turned {
    const { picturePath } = this.around;
    const moment = {
      ...(picturePath ? { picturePath: (name: NamedPicture['name']) => picturePath(caseId, name) } : {}),
      caseId,
      now,
      newId: () => randomUUID(),
      contact: this.around.contact,
      greeted: this.around.greeted,
      drawn: this.around.drawn ?? false,
      pagePath: this.around.pagePath(caseId),
      ...waiting,
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
    if (incoming.said.kind === 'poll') events.length = 0;
    else events.push({ type: 'heard', ...who, role, kind: incoming.said.kind });
    // danger is heard even now: it depends on nothing that can have failed
    const dangers = incoming.said.kind === 'text' ? listen(this.knowledge, incoming.said.text, role) : [];
    for (const { hazard, level, asked, silent } of dangers)
      if (!asked) events.push({ type: 'hazard-raised', ...who, hazard, level, silent });
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
  private safeWords(
    role: Role,
    dangers: readonly { readonly hazard: string; readonly level: 'stop' | 'caution' }[],
  ): string {
    const words = wordsFor(role);
    const contact = this.around.contact ?? '';
    const steps = dangers.flatMap(({ hazard, level }) => {
      const known = this.knowledge.hazards.get(hazard);
      return known ? stepsAt(known, level, words) : [];
    });
    return [...steps, fill(this.knowledge.words.get('trouble')?.[words] ?? contact, { contact })].join('\n');
  }

  private now(): Date {
    return this.around.now?.() ?? new Date();
  }

  /** Asks, reminds and closes in all cases of this channel that are due: at the start, for what fell due meanwhile. */
  fallDue(): void {
    const now = this.now();
    const at = now.toISOString();
    for (const caseId of this.store.due(this.around.channel, at)) {
      const before = this.store.load(caseId);
      if (!before) continue;
      const { events, ask } = fallenDue(this.knowledge, before, at, machineOffset(now), false);
      const own: CaseEvent[] = ask ? [{ type: 'followed-up', at, about: ask.about, place: ask.place }] : [];
      // one that another process has just changed is looked at the next time
      keep(this.knowledge, this.store, caseId, before, [...events, ...own], now);
    }
  }

  /** Pages that wait to be written: after each turn, and once at the start for what a crash left. */
  deliver(channel: string = this.around.channel): void {
    const { writePage, onTrouble } = this.around;
    this.store.deliver(channel, this.now().toISOString(), ({ kind, caseId, body }) => {
      if (kind !== PAGE) return false;
      try {
        const { markdown, html } = pagesIn(body);
        writePage(caseId, markdown, html);
        return true;
      } catch (error) {
        onTrouble('its page could not be written, the next turn tries again', error, caseId);
        return false;
      }
    });
  }
}

const NO_NEWS = { mark: null, upTo: 0, events: [] } as const;

const ALPHABET = '23456789ABCDEFGHJKMNPQRSTVWXYZ';

/** Eight characters of 30, none that look alike, each as likely as the others: 39 bits, a take-up code that cannot be guessed. */
function newCode(): string {
  return Array.from({ length: 8 }, () => ALPHABET[randomInt(ALPHABET.length)]).join('');
}
