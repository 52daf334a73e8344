/** The rooms of a chat server in SQLite, the names of its people, and the words of a message that its writer deleted. */
import type { Database } from 'better-sqlite3';
import type { Room, RoomOfCase, Rooms } from '../message/room.js';
import { ITS_VERSIONS } from './statements.js';

const CHANNEL = 'discord';

export function rooms(db: Database, run: <T>(work: () => T) => T): Rooms {
  const columns = 'r.conversation, r.place, r.guild, r.parent, r.owner, r.person, r.role, r.seen';
  const withCase = `SELECT ${columns}, c.id AS caseId, c.status FROM rooms r
    JOIN conversations v ON v.channel = '${CHANNEL}' AND v.name = r.conversation JOIN cases c ON c.id = v.case_id`;
  const sql = {
    open: db.prepare(
      'INSERT INTO rooms (conversation, place, guild, parent, owner, person, role, seen, opened_at) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (conversation) DO NOTHING',
    ),
    get: db.prepare<[string], Room>(`SELECT ${columns} FROM rooms r WHERE conversation = ?`),
    at: db.prepare<[string], Room>(`SELECT ${columns} FROM rooms r WHERE place = ? ORDER BY rowid DESC LIMIT 1`),
    placed: db.prepare('UPDATE rooms SET place = ? WHERE conversation = ?'),
    seen: db.prepare<{ message: string; conversation: string }>(
      'UPDATE rooms SET seen = :message WHERE conversation = :conversation AND (seen IS NULL OR length(seen) < length(:message) OR (length(seen) = length(:message) AND seen < :message))',
    ),
    standing: db.prepare<[], RoomOfCase>(`${withCase} WHERE c.status <> 'closed' AND r.place IS NOT NULL`),
    of: db.prepare<[string], RoomOfCase>(`${withCase} WHERE r.owner = ? ORDER BY r.rowid DESC LIMIT 25`),
    ofCase: db.prepare<[string], RoomOfCase>(`${withCase} WHERE c.id = ? ORDER BY r.rowid DESC LIMIT 1`),
    withNews: db.prepare<[string], RoomOfCase>(`${withCase} WHERE c.updated_at >= ? AND EXISTS (
        SELECT 1 FROM events e INDEXED BY events_news WHERE e.case_id = c.id AND e.news = 1 AND e.person IS NOT r.person
        AND e.version > coalesce((SELECT version FROM readers WHERE case_id = c.id AND person = r.person), 0)
      ) ORDER BY r.rowid`),
    name: db.prepare<[string], string>('SELECT name FROM names WHERE id = ?').pluck(),
    taken: db.prepare<[string], string>('SELECT id FROM names WHERE name = ?').pluck(),
    addName: db.prepare('INSERT INTO names (id, name) VALUES (?, ?)'),
    message: db.prepare<
      [string, string, string],
      { seq: number; said: string | null; answer: string | null; person: string | null }
    >(`SELECT seq, said, answer, person FROM messages WHERE case_id = ? AND ${ITS_VERSIONS}`),
    blank: db.prepare('UPDATE messages SET said = NULL, answer = ? WHERE case_id = ? AND seq = ?'),
    relayed: db.prepare(
      "UPDATE events SET words = NULL WHERE case_id = ? AND type = 'desk-answered' AND person IS ? AND json_extract(words, '$.text') = ?",
    ),
  };
  const nameOf = db.transaction((id: string, name: string): string => {
    const known = sql.name.get(id);
    if (known !== undefined) return known;
    const own = sql.taken.get(name) === undefined ? name : `${name} ${id}`;
    sql.addName.run(id, own);
    return own;
  });
  const blank = db.transaction((caseId: string, messageId: string): boolean => {
    const versions = sql.message.all(caseId, messageId, messageId);
    for (const kept of versions) {
      const said = kept.said === null ? null : (JSON.parse(kept.said) as { kind: string; text?: string });
      if (said?.text !== undefined) sql.relayed.run(caseId, kept.person, said.text);
      sql.blank.run(kept.answer === null ? null : withoutSpans(kept.answer), caseId, kept.seq);
    }
    return versions.length > 0;
  });
  return {
    open: (r, at) =>
      run(() => void sql.open.run(r.conversation, r.place, r.guild, r.parent, r.owner, r.person, r.role, r.seen, at)),
    get: (conversation) => run(() => sql.get.get(conversation) ?? null),
    at: (place) => run(() => sql.at.get(place) ?? null),
    placed: (conversation, place) => run(() => void sql.placed.run(place, conversation)),
    seen: (conversation, message) => run(() => void sql.seen.run({ message, conversation })),
    standing: () => run(() => sql.standing.all()),
    of: (owner) => run(() => sql.of.all(owner)),
    ofCase: (caseId) => run(() => sql.ofCase.get(caseId) ?? null),
    withNews: (since) => run(() => sql.withNews.all(since)),
    nameOf: (id, name) => run(() => nameOf.immediate(id, name)),
    blank: (caseId, messageId) => run(() => blank.immediate(caseId, messageId)),
  };
}

/** The words that an answer quotes of the message it answers. */
function withoutSpans(answer: string): string {
  const whole = JSON.parse(answer) as { understood: { span: string | null }[] };
  return JSON.stringify({ ...whole, understood: whole.understood.map((u) => ({ ...u, span: null })) });
}
