/** Cases in and out of SQLite. One turn is one transaction, with the version it was made from. */
import { isNews, type CaseEvent } from '../case/events.js';
import { fold, newCase, STATE_SHAPE, type CaseState } from '../case/state.js';
import type { Incoming, Said } from '../message/incoming.js';
import type { Answer, Status } from '../message/outgoing.js';
import { erasing, type Aftermath, type Erasure } from './erase.js';
import type { Outgoing, Posts } from '../message/post.js';
import type { Rooms } from '../message/room.js';
import { eventOf, rowOf } from './event-rows.js';
import type { Database } from 'better-sqlite3';
import { openFile, problem } from './open.js';
import type { Inbox } from '../message/inbox.js';
import { inbox } from './inbox.js';
import { leases, type Leases } from './leases.js';
import { posts } from './posts.js';
import { rooms } from './rooms.js';
import { statements, type Waiting } from './statements.js';

interface Turn {
  readonly caseId: string;
  readonly channel: string;
  readonly conversation: string;
  /** the version the turn was made from; 0 opens the case */
  readonly from: number;
  readonly incoming: Incoming;
  readonly at: string;
  readonly events: readonly CaseEvent[];
  readonly state: CaseState;
  readonly answer: Answer;
  readonly outbox: readonly Outgoing[];
  /** when the case has next something to say by itself, in UTC */
  readonly dueAt?: string | null;
  /** how far the one who speaks has been told of what happened: from here to there */
  readonly reader?: { readonly person: string; readonly from: number | null; readonly to: number } | null;
}

/** What happens to a case without a message of its people: an act at the desk, or something that falls due. */
interface Happening {
  readonly caseId: string;
  readonly from: number;
  readonly at: string;
  readonly events: readonly CaseEvent[];
  readonly state: CaseState;
  readonly status: Status;
  readonly dueAt: string | null;
  /** bodies of items of the outbox that are there already, by their ids */
  readonly renewed: Readonly<Record<string, string>>;
}

/** What waits to be told to one person of a case. */
interface News {
  /** up to which version they were told, or null where they are new to the case */
  readonly mark: number | null;
  readonly upTo: number;
  readonly events: readonly CaseEvent[];
}

export interface KeptMessage {
  readonly at: string;
  readonly role: string;
  readonly person: string | null;
  readonly said: Said | null;
  readonly answer: Answer | null;
}

/** What else the store holds of a case, as it stands there. */
export interface KeptRows {
  readonly conversations: readonly { readonly channel: string; readonly name: string }[];
  readonly messages: readonly unknown[];
  /** pages and whatever else was or is to be delivered */
  readonly outbox: readonly unknown[];
  /** how far each person was told of what happened */
  readonly readers: readonly unknown[];
  /** where it is talked in on a chat server */
  readonly rooms: readonly unknown[];
}

export interface Store {
  readonly path: string;
  readonly caseOf: (channel: string, conversation: string) => string | null;
  /** the state kept beside the events */
  readonly load: (caseId: string) => CaseState | null;
  /** the same state, folded anew from the events */
  readonly rebuild: (caseId: string) => CaseState | null;
  readonly answerTo: (caseId: string, messageId: string) => Answer | null;
  /** the words of one message as they were last changed; null where there are none */
  readonly textOf: (caseId: string, messageId: string) => string | null;
  readonly alone: <T>(work: () => T) => T;
  /** Stores a whole turn, or nothing when the case is not at the version it was made from or has the message already. */
  readonly append: (turn: Turn) => 'stored' | 'conflict';
  /** The same for what happens without a message. */
  readonly happen: (happening: Happening) => 'stored' | 'conflict';
  /**
   * What happened since this person was last told, but for their own acts. Who is new to a case is told what nobody
   * has been told yet.
   */
  readonly newsFor: (caseId: string, person: string) => News;
  readonly events: (caseId: string) => CaseEvent[];
  /** cases of this channel that had something to say by this moment (UTC) */
  readonly due: (channel: string, until: string) => string[];
  readonly escalated: () => string[];
  readonly cases: () => string[];
  readonly channelOf: (caseId: string) => string | null;
  readonly join: (channel: string, conversation: string, caseId: string) => void;
  readonly messages: (caseId: string) => KeptMessage[];
  readonly rowsOf: (caseId: string) => KeptRows;
  readonly openCases: (
    channel: string,
  ) => { caseId: string; conversation: string; updatedAt: string; status: string }[];
  readonly lastAnswer: (caseId: string) => Answer | null;
  readonly waiting: (channel: string) => Waiting[];
  /**
   * Hands each item that waits to `write` and marks it, one process at a time, so that the newest body is the one
   * written last. What `write` refuses (false) goes on waiting.
   */
  readonly deliver: (channel: string, at: string, write: (item: Waiting) => boolean) => void;
  /** cases in which this person wrote, or did something at the desk */
  readonly casesOf: (person: string) => string[];
  /** closed cases that nothing has changed since then, and that still hold people */
  readonly closedBefore: (moment: string) => string[];
  readonly erase: (erasure: Erasure) => void;
  /**
   * Takes what was erased out of the log; with `whole` writes the file anew, so that nothing is left in its free space
   * either (where secure_delete has put zeros already). False while another process still reads the log.
   */
  readonly sweep: (whole: boolean) => boolean;
  /** where cases are talked in on a chat server, what is still to be posted there, and which process does it */
  readonly rooms: Rooms;
  readonly posts: Posts;
  readonly inbox: Inbox;
  readonly leases: Leases;
  readonly close: () => void;
}

export const openStore = (path: string): Store => storeIn(openFile(path), path);

/** The store in a file that is open already. */
export function storeIn(db: Database, path: string): Store {
  const run = <T>(work: () => T): T => {
    try {
      return work();
    } catch (error) {
      throw problem(path, error);
    }
  };
  const sql = statements(db);

  const addEvents = (caseId: string, from: number, events: readonly CaseEvent[]): void => {
    let version = from;
    for (const event of events) {
      version += 1;
      const { at, type, data, person, words } = rowOf(event);
      sql.addEvent.run(caseId, version, at, type, data, person, words, isNews(event) ? 1 : 0);
    }
  };

  const setCase = (t: Happening | Turn, status: Status): void => {
    const state = JSON.stringify(t.state);
    const set = sql.setCase.run(t.state.version, state, STATE_SHAPE, t.at, status, t.dueAt ?? null, t.caseId, t.from);
    if (set.changes === 0) throw CONFLICT;
  };

  const addOutbox = (t: Turn, { id, kind, body, room, ask }: Outgoing): void =>
    void sql.addOutbox.run(id, t.caseId, t.channel, kind, body, t.at, room ?? null, ask ?? null);

  const write = db.transaction((t: Turn): void => {
    const { status } = t.answer;
    if (t.incoming.id !== null && sql.answer.get(t.caseId, t.incoming.id) !== undefined) throw CONFLICT;
    if (t.from === 0) {
      if (sql.caseOf.get(t.channel, t.conversation)) throw CONFLICT;
      const state = JSON.stringify(t.state);
      sql.addCase.run(t.caseId, t.state.version, state, STATE_SHAPE, t.at, t.at, status, t.dueAt ?? null);
      sql.addConversation.run(t.channel, t.conversation, t.caseId);
    } else setCase(t, status);
    if (t.reader) {
      const { person, from, to } = t.reader;
      const read =
        from === null ? sql.addReader.run(t.caseId, person, to) : sql.setReader.run(to, t.caseId, person, from);
      if (read.changes === 0) throw CONFLICT;
    }
    const seq = (sql.lastSeq.get(t.caseId) ?? 0) + 1;
    sql.addMessage.run(
      t.caseId,
      seq,
      t.incoming.id,
      t.at,
      t.incoming.from.role,
      t.incoming.said.kind,
      t.incoming.from.id,
      JSON.stringify(t.incoming.said),
      JSON.stringify(t.answer),
    );
    addEvents(t.caseId, t.from, t.events);
    for (const item of t.outbox) addOutbox(t, item);
  });

  const happen = db.transaction((h: Happening): void => {
    setCase(h, h.status);
    addEvents(h.caseId, h.from, h.events);
    for (const [id, body] of Object.entries(h.renewed)) sql.setOutbox.run(body, id, body);
  });

  const deliver = db.transaction((channel: string, at: string, put: (item: Waiting) => boolean) => {
    for (const item of sql.waiting.all(channel)) if (put(item)) sql.delivered.run(at, item.id);
  });

  const eventsOf = (caseId: string): CaseEvent[] => sql.events.all(caseId).map(eventOf);
  const rebuild = (caseId: string): CaseState | null => {
    const events = eventsOf(caseId);
    const first = events[0];
    if (!first) return null;
    return fold(newCase(first.at, first.type === 'opened' ? (first.role as CaseState['role']) : 'homeowner'), events);
  };

  const erasure = erasing(db, {
    rebuild,
    write: (caseId, { events, state, dueAt, renewed }: Aftermath) => {
      addEvents(caseId, state.version - events.length, events);
      sql.setErased.run(state.version, JSON.stringify(state), STATE_SHAPE, dueAt, caseId);
      for (const [id, body] of Object.entries(renewed)) sql.setOutbox.run(body, id, body);
    },
  });

  return {
    path,
    caseOf: (channel, conversation) => run(() => sql.caseOf.get(channel, conversation) ?? null),
    load: (caseId) =>
      run(() => {
        const kept = sql.state.get(caseId);
        if (kept === undefined) return null;
        return kept.shape === STATE_SHAPE ? (JSON.parse(kept.state) as CaseState) : rebuild(caseId);
      }),
    rebuild: (caseId) => run(() => rebuild(caseId)),
    answerTo: (caseId, messageId) =>
      run(() => {
        const text = sql.answer.get(caseId, messageId);
        return text === undefined || text === null ? null : (JSON.parse(text) as Answer);
      }),
    textOf: (caseId, messageId) =>
      run(() => {
        const said = sql.said.get(caseId, messageId, messageId);
        const { text = null } = (said ? JSON.parse(said) : {}) as { text?: string | null };
        return text;
      }),
    alone: (work) => run(() => db.transaction(work).immediate()),
    append: (turn) => run(() => unlessConflict(() => write.immediate(turn))),
    happen: (happening) => run(() => unlessConflict(() => happen.immediate(happening))),
    newsFor: (caseId, person) =>
      run(() => {
        const mark = sql.mark.get(caseId, person) ?? null;
        const from = mark ?? sql.furthest.get(caseId) ?? 0;
        const events = sql.news.all(caseId, from);
        return { mark, upTo: from, events: events.filter((e) => e.person !== person).map(eventOf) };
      }),
    events: (caseId) => run(() => eventsOf(caseId)),
    due: (channel, until) => run(() => sql.due.all(until, channel)),
    escalated: () => run(() => sql.escalated.all()),
    cases: () => run(() => sql.all.all()),
    channelOf: (caseId) => run(() => sql.channelOf.get(caseId) ?? null),
    join: (channel, conversation, caseId) => run(() => void sql.joinConversation.run(channel, conversation, caseId)),
    messages: (caseId) =>
      run(() =>
        sql.messages.all(caseId).map((m) => ({
          at: m.at,
          role: m.role,
          person: m.person,
          said: m.said === null ? null : (JSON.parse(m.said) as Said),
          answer: m.answer === null ? null : (JSON.parse(m.answer) as Answer),
        })),
      ),
    rowsOf: (caseId) =>
      run(() => ({
        conversations: sql.conversations.all(caseId),
        messages: sql.messageIds.all(caseId),
        outbox: sql.outbox.all(caseId),
        readers: sql.readers.all(caseId),
        rooms: sql.rooms.all(caseId),
      })),
    openCases: (channel) => run(() => sql.openCases.all(channel)),
    waiting: (channel) => run(() => sql.waiting.all(channel)),
    lastAnswer: (caseId) =>
      run(() => {
        const text = sql.lastAnswer.get(caseId);
        return text === undefined ? null : (JSON.parse(text) as Answer);
      }),
    deliver: (channel, at, put) =>
      run(() => {
        if (sql.waiting.all(channel).length > 0) deliver.immediate(channel, at, put);
      }),
    casesOf: (person) => run(() => erasure.casesOf(person)),
    closedBefore: (moment) => run(() => erasure.closedBefore(moment)),
    erase: (what) => run(() => erasure.erase(what)),
    sweep: (whole) =>
      run(() => {
        if (whole) db.exec('VACUUM');
        const [row] = db.pragma('wal_checkpoint(TRUNCATE)') as { busy: number }[];
        return row?.busy === 0;
      }),
    rooms: rooms(db, run),
    posts: posts(db, run),
    inbox: inbox(db, run),
    leases: leases(db, run),
    close: () => void db.close(),
  };
}

const CONFLICT = new Error('the case is not at the version that the work was made from');

/** A conflict leaves no trace: what was written before it was found is undone. */
function unlessConflict(work: () => void): 'stored' | 'conflict' {
  try {
    work();
    return 'stored';
  } catch (error) {
    if (error === CONFLICT) return 'conflict';
    throw error;
  }
}
