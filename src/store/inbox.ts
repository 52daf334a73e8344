/** What was tapped on a chat server and is not worked on yet, in SQLite. */
import type { Database } from 'better-sqlite3';
import type { Inbox, KeptTap } from '../message/inbox.js';

export function inbox(db: Database, run: <T>(work: () => T) => T): Inbox {
  const sql = {
    keep: db.prepare('INSERT INTO inbox (id, at, person, body) VALUES (?, ?, ?, ?) ON CONFLICT (id) DO NOTHING'),
    done: db.prepare('UPDATE inbox SET body = NULL WHERE id = ?'),
    beginAgain: db.prepare('UPDATE inbox SET starts = starts + 1 WHERE id = ?'),
    undone: db.prepare<[], ReturnType<Inbox['undone']>[number]>(
      'SELECT id, person, body, starts FROM inbox WHERE body IS NOT NULL ORDER BY at, id',
    ),
    forget: db.prepare('DELETE FROM inbox WHERE body IS NULL AND at < ?'),
  };
  const keep = db.transaction((taps: readonly KeptTap[], at: string): ReadonlySet<string> => {
    const isNew = ({ id, person, body }: KeptTap): boolean => sql.keep.run(id, at, person, body).changes > 0;
    return new Set(taps.filter(isNew).map(({ id }) => id));
  });
  return {
    keep: (taps, at) => run(() => keep.immediate(taps, at)),
    done: (id) => run(() => void sql.done.run(id)),
    undone: () => run(() => sql.undone.all()),
    beginAgain: (id) => run(() => void sql.beginAgain.run(id)),
    forget: (before) => run(() => void sql.forget.run(before)),
  };
}
