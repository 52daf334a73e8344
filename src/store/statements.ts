/** Every statement that the store runs, prepared once. */
import type { Database } from 'better-sqlite3';
import type { EventRow } from './event-rows.js';

/** What is still to be delivered. */
export interface Waiting {
  readonly id: string;
  readonly caseId: string;
  readonly kind: string;
  readonly body: string;
}

/** a message, and what it was changed to: its id, a slash, when */
export const ITS_VERSIONS = "(message_id = ? OR message_id GLOB ? || '/*')";
export const NEXT_SEQ = '(SELECT coalesce(max(seq), 0) + 1 FROM outbox WHERE seq IS NOT NULL)';
const WAITS_AGAIN = 'delivered_at = NULL, failed = NULL, tries = 0, next_at = NULL';

export function statements(db: Database) {
  return {
    caseOf: db
      .prepare<[string, string], string>('SELECT case_id FROM conversations WHERE channel = ? AND name = ?')
      .pluck(),
    state: db.prepare<[string], { state: string; shape: number }>('SELECT state, shape FROM cases WHERE id = ?'),
    events: db.prepare<[string], EventRow>(
      'SELECT at, type, data, person, words FROM events WHERE case_id = ? ORDER BY version',
    ),
    news: db.prepare<[string, number], EventRow>(
      'SELECT at, type, data, person, words FROM events INDEXED BY events_news WHERE case_id = ? AND news = 1 AND version > ? ORDER BY version',
    ),
    mark: db.prepare<[string, string], number>('SELECT version FROM readers WHERE case_id = ? AND person = ?').pluck(),
    furthest: db.prepare<[string], number | null>('SELECT max(version) FROM readers WHERE case_id = ?').pluck(),
    addReader: db.prepare(
      'INSERT INTO readers (case_id, person, version) VALUES (?, ?, ?) ON CONFLICT (case_id, person) DO NOTHING',
    ),
    setReader: db.prepare('UPDATE readers SET version = ? WHERE case_id = ? AND person = ? AND version = ?'),
    answer: db
      .prepare<[string, string], string | null>('SELECT answer FROM messages WHERE case_id = ? AND message_id = ?')
      .pluck(),
    said: db
      .prepare<[string, string, string], string | null>(
        `SELECT said FROM messages WHERE case_id = ? AND ${ITS_VERSIONS} ORDER BY seq DESC LIMIT 1`,
      )
      .pluck(),
    addCase: db.prepare(
      'INSERT INTO cases (id, version, state, shape, opened_at, updated_at, status, due_at) VALUES (?, ?, ?, ?, ?, ?, ?, ?)',
    ),
    addConversation: db.prepare('INSERT INTO conversations (channel, name, case_id) VALUES (?, ?, ?)'),
    joinConversation: db.prepare(
      'INSERT INTO conversations (channel, name, case_id) VALUES (?, ?, ?) ON CONFLICT (channel, name) DO UPDATE SET case_id = excluded.case_id',
    ),
    setCase: db.prepare(
      'UPDATE cases SET version = ?, state = ?, shape = ?, updated_at = ?, status = ?, due_at = ?, erased_at = NULL WHERE id = ? AND version = ?',
    ),
    setErased: db.prepare('UPDATE cases SET version = ?, state = ?, shape = ?, due_at = ? WHERE id = ?'),
    lastSeq: db.prepare<[string], number>('SELECT max(seq) FROM messages WHERE case_id = ?').pluck(),
    addMessage: db.prepare(
      'INSERT INTO messages (case_id, seq, message_id, at, role, kind, person, said, answer) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)',
    ),
    addEvent: db.prepare(
      'INSERT INTO events (case_id, version, at, type, data, person, words, news) VALUES (?, ?, ?, ?, ?, ?, ?, ?)',
    ),
    addOutbox: db.prepare(
      `INSERT INTO outbox (id, case_id, channel, kind, body, created_at, room, ask, seq) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ${NEXT_SEQ})
      ON CONFLICT (id) DO UPDATE SET body = excluded.body, ${WAITS_AGAIN} WHERE kind IN ('page', 'escalation') AND body IS NOT excluded.body`,
    ),
    setOutbox: db.prepare(`UPDATE outbox SET body = ?, ${WAITS_AGAIN} WHERE id = ? AND body IS NOT ?`),
    lastAnswer: db
      .prepare<[string], string>(
        'SELECT answer FROM messages WHERE case_id = ? AND answer IS NOT NULL ORDER BY seq DESC LIMIT 1',
      )
      .pluck(),
    messages: db.prepare<
      [string],
      { at: string; role: string; person: string | null; said: string | null; answer: string | null }
    >('SELECT at, role, person, said, answer FROM messages WHERE case_id = ? ORDER BY seq'),
    conversations: db.prepare<[string], { channel: string; name: string }>(
      'SELECT channel, name FROM conversations WHERE case_id = ?',
    ),
    messageIds: db.prepare<[string]>(
      'SELECT seq, message_id AS id, kind FROM messages WHERE case_id = ? AND message_id IS NOT NULL ORDER BY seq',
    ),
    rooms: db.prepare<[string]>(
      'SELECT r.* FROM rooms r JOIN conversations v ON v.name = r.conversation WHERE v.case_id = ?',
    ),
    outbox: db.prepare<[string]>('SELECT * FROM outbox WHERE case_id = ? ORDER BY created_at, id'),
    readers: db.prepare<[string]>('SELECT person, version FROM readers WHERE case_id = ?'),
    openCases: db.prepare<[string], { caseId: string; conversation: string; updatedAt: string; status: string }>(
      "SELECT c.id AS caseId, v.name AS conversation, c.updated_at AS updatedAt, c.status AS status FROM cases c JOIN conversations v ON v.case_id = c.id WHERE v.channel = ? AND (c.status <> 'closed' OR EXISTS (SELECT 1 FROM events e WHERE e.case_id = c.id AND e.news = 1 AND e.version > (SELECT max(r.version) FROM readers r WHERE r.case_id = c.id))) GROUP BY c.id ORDER BY c.updated_at DESC LIMIT 20",
    ),
    escalated: db.prepare<[], string>("SELECT id FROM cases WHERE status = 'escalated'").pluck(),
    all: db.prepare<[], string>('SELECT id FROM cases ORDER BY opened_at, id').pluck(),
    channelOf: db.prepare<[string], string>('SELECT channel FROM conversations WHERE case_id = ? LIMIT 1').pluck(),
    due: db
      .prepare<[string, string], string>(
        'SELECT id FROM cases c WHERE due_at <= ? AND EXISTS (SELECT 1 FROM conversations v WHERE v.case_id = c.id AND v.channel = ?) ORDER BY due_at',
      )
      .pluck(),
    waiting: db.prepare<[string], Waiting>(
      'SELECT id, case_id AS caseId, kind, body FROM outbox WHERE channel = ? AND room IS NULL AND delivered_at IS NULL ORDER BY created_at',
    ),
    delivered: db.prepare('UPDATE outbox SET delivered_at = ? WHERE id = ?'),
  };
}
