/** Which process speaks for a part of a chat server: one at a time, for as long as it says so again and again. */
import type { Database } from 'better-sqlite3';

export interface Leases {
  /** Takes or renews it. Gives null, or who holds it. `isGone` tells that a holder has ended without giving it back. */
  readonly take: (
    shard: string,
    holder: string,
    now: string,
    until: string,
    isGone: (holder: string) => boolean,
  ) => string | null;
  readonly giveBack: (shard: string, holder: string) => void;
}

export function leases(db: Database, run: <T>(work: () => T) => T): Leases {
  const sql = {
    held: db.prepare<[string], { holder: string; until: string }>('SELECT holder, until FROM leases WHERE shard = ?'),
    take: db.prepare(
      'INSERT INTO leases (shard, holder, until) VALUES (?, ?, ?) ON CONFLICT (shard) DO UPDATE SET holder = excluded.holder, until = excluded.until',
    ),
    giveBack: db.prepare('DELETE FROM leases WHERE shard = ? AND holder = ?'),
  };
  const take = db.transaction((...[shard, holder, now, until, isGone]: Parameters<Leases['take']>): string | null => {
    const held = sql.held.get(shard);
    if (held && held.holder !== holder && held.until > now && !isGone(held.holder)) return held.holder;
    sql.take.run(shard, holder, until);
    return null;
  });
  return {
    take: (...args) => run(() => take.immediate(...args)),
    giveBack: (shard, holder) => run(() => void sql.giveBack.run(shard, holder)),
  };
}
