/** Cases in and out of SQLite. One turn is one transaction, with the version it was made from. */
import type { Database } from 'better-sqlite3';
import { caseEvent, type CaseEvent } from '../case/events.js';
import { fold, newCase, type CaseState } from '../case/state.js';
import type { Incoming, Said } from '../message/incoming.js';
import type { Answer } from '../message/outgoing.js';
import { openFile, problem } from './open.js';

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
}

interface Outgoing {
  readonly id: string;
  readonly kind: string;
  readonly body: string;
}

interface Waiting extends Outgoing {
  readonly caseId: string;
}

export interface KeptMessage {
  readonly at: string;
  readonly role: string;
  readonly person: string | null;
  readonly said: Said | null;
  readonly answer: Answer | null;
}

export interface Store {
  readonly path: string;
  readonly caseOf: (channel: string, conversation: string) => string | null;
  /** the state kept beside the events */
  readonly load: (caseId: string) => CaseState | null;
  /** the same state, folded anew from the events */
  readonly rebuild: (caseId: string) => CaseState | null;
  readonly answerTo: (caseId: string, messageId: string) => Answer | null;
  readonly alone: <T>(work: () => T) => T;
  /** Stores a whole turn, or nothing when the case is not at the version it was made from or has the message already. */
  readonly append: (turn: Turn) => 'stored' | 'conflict';
  readonly join: (channel: string, conversation: string, caseId: string) => void;
  readonly messages: (caseId: string) => KeptMessage[];
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
  readonly close: () => void;
}

export function openStore(path: string): Store {
  const db = openFile(path);
  const run = <T>(work: () => T): T => {
    try {
      return work();
    } catch (error) {
      throw problem(path, error);
    }
  };
  const sql = statements(db);

  const write = db.transaction((t: Turn): 'stored' | 'conflict' => {
    const { status } = t.answer;
    if (t.incoming.id !== null && sql.answer.get(t.caseId, t.incoming.id) !== undefined) return 'conflict';
    if (t.from === 0) {
      if (sql.caseOf.get(t.channel, t.conversation)) return 'conflict';
      sql.addCase.run(t.caseId, t.state.version, JSON.stringify(t.state), t.at, t.at, status);
      sql.addConversation.run(t.channel, t.conversation, t.caseId);
    } else if (sql.setCase.run(t.state.version, JSON.stringify(t.state), t.at, status, t.caseId, t.from).changes === 0)
      return 'conflict';
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
    let version = t.from;
    for (const event of t.events) {
      version += 1;
      const { at, type, ...rest } = event;
      const { by, ...data } = rest as { by?: string };
      sql.addEvent.run(t.caseId, version, at, type, JSON.stringify(data), by ?? null);
    }
    for (const item of t.outbox) sql.addOutbox.run(item.id, t.caseId, t.channel, item.kind, item.body, t.at);
    return 'stored';
  });

  const deliver = db.transaction((channel: string, at: string, put: (item: Waiting) => boolean) => {
    for (const item of sql.waiting.all(channel)) if (put(item)) sql.delivered.run(at, item.id);
  });

  return {
    path,
    caseOf: (channel, conversation) => run(() => sql.caseOf.get(channel, conversation) ?? null),
    load: (caseId) =>
      run(() => {
        const text = sql.state.get(caseId);
        return text === undefined ? null : (JSON.parse(text) as CaseState);
      }),
    rebuild: (caseId) =>
      run(() => {
        const events = sql.events.all(caseId).map(eventOf);
        const first = events[0];
        if (!first) return null;
        return fold(
          newCase(first.at, first.type === 'opened' ? (first.role as CaseState['role']) : 'homeowner'),
          events,
        );
      }),
    answerTo: (caseId, messageId) =>
      run(() => {
        const text = sql.answer.get(caseId, messageId);
        return text === undefined || text === null ? null : (JSON.parse(text) as Answer);
      }),
    alone: (work) => run(() => db.transaction(work).immediate()),
    append: (turn) => run(() => write.immediate(turn)),
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
    close: () => void db.close(),
  };
}

interface EventRow {
  readonly at: string;
  readonly type: string;
  readonly data: string;
  readonly person: string | null;
}

/** An event as it was written; its own schema is checked, since the file is an edge. Erased people have no name. */
function eventOf(row: EventRow): CaseEvent {
  const data = JSON.parse(row.data) as Record<string, unknown>;
  const whole = { type: row.type, at: row.at, ...data };
  return caseEvent.parse(NO_PERSON.has(row.type) ? whole : { ...whole, by: row.person ?? '' });
}
const NO_PERSON = new Set([
  'asked',
  'told',
  'advised',
  'advice-dropped',
  'escalated',
  'escalation-raised',
  'misunderstood',
]);

function statements(db: Database) {
  return {
    caseOf: db
      .prepare<[string, string], string>('SELECT case_id FROM conversations WHERE channel = ? AND name = ?')
      .pluck(),
    state: db.prepare<[string], string>('SELECT state FROM cases WHERE id = ?').pluck(),
    events: db.prepare<[string], EventRow>(
      'SELECT at, type, data, person FROM events WHERE case_id = ? ORDER BY version',
    ),
    answer: db
      .prepare<[string, string], string | null>('SELECT answer FROM messages WHERE case_id = ? AND message_id = ?')
      .pluck(),
    addCase: db.prepare(
      'INSERT INTO cases (id, version, state, opened_at, updated_at, status) VALUES (?, ?, ?, ?, ?, ?)',
    ),
    addConversation: db.prepare('INSERT INTO conversations (channel, name, case_id) VALUES (?, ?, ?)'),
    joinConversation: db.prepare(
      'INSERT INTO conversations (channel, name, case_id) VALUES (?, ?, ?) ON CONFLICT (channel, name) DO UPDATE SET case_id = excluded.case_id',
    ),
    setCase: db.prepare(
      'UPDATE cases SET version = ?, state = ?, updated_at = ?, status = ? WHERE id = ? AND version = ?',
    ),
    lastSeq: db.prepare<[string], number>('SELECT max(seq) FROM messages WHERE case_id = ?').pluck(),
    addMessage: db.prepare(
      'INSERT INTO messages (case_id, seq, message_id, at, role, kind, person, said, answer) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)',
    ),
    addEvent: db.prepare('INSERT INTO events (case_id, version, at, type, data, person) VALUES (?, ?, ?, ?, ?, ?)'),
    addOutbox: db.prepare(
      'INSERT INTO outbox (id, case_id, channel, kind, body, created_at) VALUES (?, ?, ?, ?, ?, ?) ON CONFLICT (id) DO UPDATE SET body = excluded.body, delivered_at = NULL WHERE body IS NOT excluded.body',
    ),
    lastAnswer: db
      .prepare<[string], string>(
        'SELECT answer FROM messages WHERE case_id = ? AND answer IS NOT NULL ORDER BY seq DESC LIMIT 1',
      )
      .pluck(),
    messages: db.prepare<
      [string],
      { at: string; role: string; person: string | null; said: string | null; answer: string | null }
    >('SELECT at, role, person, said, answer FROM messages WHERE case_id = ? ORDER BY seq'),
    openCases: db.prepare<[string], { caseId: string; conversation: string; updatedAt: string; status: string }>(
      "SELECT c.id AS caseId, v.name AS conversation, c.updated_at AS updatedAt, c.status AS status FROM cases c JOIN conversations v ON v.case_id = c.id WHERE v.channel = ? AND c.status <> 'closed' GROUP BY c.id ORDER BY c.updated_at DESC LIMIT 20",
    ),
    waiting: db.prepare<[string], Waiting>(
      'SELECT id, case_id AS caseId, kind, body FROM outbox WHERE channel = ? AND delivered_at IS NULL ORDER BY created_at',
    ),
    delivered: db.prepare('UPDATE outbox SET delivered_at = ? WHERE id = ?'),
  };
}
