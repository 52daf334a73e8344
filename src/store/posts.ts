/** What is still to be posted in the rooms of a chat server, each room in its order. */
import type { Database } from 'better-sqlite3';
import type { Post, Posts } from '../message/post.js';
import { NEXT_SEQ } from './statements.js';

export function posts(db: Database, run: <T>(work: () => T) => T): Posts {
  const waits = 'FROM outbox INDEXED BY outbox_by_room WHERE delivered_at IS NULL AND room IS NOT NULL';
  const sql = {
    ready: db
      .prepare<[string], string>(
        `SELECT room FROM (SELECT room, min(seq), next_at ${waits} GROUP BY room) WHERE next_at IS NULL OR next_at <= ?`,
      )
      .pluck(),
    next: db.prepare<[string], Post>(
      `SELECT id, case_id AS caseId, room, kind, body, tries, tried_at AS triedAt, next_at AS nextAt, message ${waits} AND room = ? ORDER BY seq LIMIT 1`,
    ),
    nextAt: db.prepare<[], string | null>(`SELECT min(coalesce(next_at, '')) ${waits}`).pluck(),
    message: db.prepare('UPDATE outbox SET message = coalesce(?, message), tried_at = NULL WHERE id = ?'),
    sent: db.prepare(
      'UPDATE outbox SET delivered_at = ?, body = CASE ? WHEN 1 THEN body END WHERE id = ? AND body IS ?',
    ),
    trying: db.prepare('UPDATE outbox SET tried_at = ? WHERE id = ?'),
    again: db.prepare('UPDATE outbox SET tries = tries + 1, next_at = ?, tried_at = ? WHERE id = ?'),
    failed: db.prepare('UPDATE outbox SET delivered_at = ?, failed = ? WHERE id = ?'),
    add: db.prepare(
      `INSERT INTO outbox (id, case_id, channel, kind, body, created_at, room, ask, seq) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ${NEXT_SEQ})
      ON CONFLICT (id) DO NOTHING`,
    ),
    find: db.prepare<[string], NonNullable<ReturnType<Posts['find']>>>(
      'SELECT room, ask, message FROM outbox WHERE id = ? AND room IS NOT NULL',
    ),
    asking: db.prepare<[string], { id: string; ask: string }>(
      'SELECT id, ask FROM outbox INDEXED BY outbox_asks WHERE room = ? AND ask IS NOT NULL ORDER BY seq DESC LIMIT 1',
    ),
  };
  const sent = db.transaction((post: Post, message: string | null, at: string, keep: boolean) => {
    sql.message.run(message, post.id);
    sql.sent.run(at, keep ? 1 : 0, post.id, post.body);
  });
  return {
    ready: (now) => run(() => sql.ready.all(now)),
    next: (room) => run(() => sql.next.get(room) ?? null),
    nextAt: () => run(() => sql.nextAt.get() ?? null),
    trying: (id, at) => run(() => void sql.trying.run(at, id)),
    sent: (post, message, at, keep) => run(() => sent.immediate(post, message, at, keep)),
    again: (id, nextAt, triedAt) => run(() => void sql.again.run(nextAt, triedAt, id)),
    failed: (id, why, at) => run(() => void sql.failed.run(at, why, id)),
    add: (caseId, channel, at, { id, kind, body, room, ask = null }) =>
      run(() => void sql.add.run(id, caseId, channel, kind, body, at, room, ask)),
    find: (id) => run(() => sql.find.get(id) ?? null),
    asking: (room) => run(() => sql.asking.get(room) ?? null),
  };
}
