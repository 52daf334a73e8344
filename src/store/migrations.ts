/**
 * SQLite holds every case: append-only events, the messages with their answers, what is still to be delivered. This
 * room keeps and finds; it decides nothing. Words of a person and their identity stand in columns of their own.
 *
 * This file: the schema, one migration a version; never changed once released, only added to.
 */
import type { Database } from 'better-sqlite3';

const MIGRATIONS: readonly string[] = [
  `
  CREATE TABLE cases (
    id TEXT PRIMARY KEY,
    version INTEGER NOT NULL,
    state TEXT NOT NULL,
    opened_at TEXT NOT NULL,
    updated_at TEXT NOT NULL,
    status TEXT NOT NULL
  ) STRICT;
  CREATE TABLE conversations (
    channel TEXT NOT NULL,
    name TEXT NOT NULL,
    case_id TEXT NOT NULL REFERENCES cases(id),
    PRIMARY KEY (channel, name)
  ) STRICT, WITHOUT ROWID;
  CREATE TABLE messages (
    case_id TEXT NOT NULL REFERENCES cases(id),
    seq INTEGER NOT NULL,
    message_id TEXT,
    at TEXT NOT NULL,
    role TEXT NOT NULL,
    kind TEXT NOT NULL,
    person TEXT,
    said TEXT,
    answer TEXT,
    PRIMARY KEY (case_id, seq)
  ) STRICT, WITHOUT ROWID;
  CREATE UNIQUE INDEX messages_by_id ON messages(case_id, message_id) WHERE message_id IS NOT NULL;
  CREATE INDEX messages_by_person ON messages(person) WHERE person IS NOT NULL;
  CREATE TABLE events (
    case_id TEXT NOT NULL REFERENCES cases(id),
    version INTEGER NOT NULL,
    at TEXT NOT NULL,
    type TEXT NOT NULL,
    data TEXT NOT NULL,
    person TEXT,
    PRIMARY KEY (case_id, version)
  ) STRICT, WITHOUT ROWID;
  CREATE TABLE outbox (
    id TEXT PRIMARY KEY,
    case_id TEXT NOT NULL REFERENCES cases(id),
    channel TEXT NOT NULL,
    kind TEXT NOT NULL,
    body TEXT,
    created_at TEXT NOT NULL,
    delivered_at TEXT
  ) STRICT, WITHOUT ROWID;
  CREATE INDEX outbox_waiting ON outbox(channel, created_at) WHERE delivered_at IS NULL;
  `,
  // the desk's acts and what falls due: words beside their event, which events are news to the people of a case
  // and how far each was told, when a case has next something to say. `shape` is the shape of the kept state: one of an older program is folded anew.
  `
  ALTER TABLE cases ADD COLUMN due_at TEXT;
  ALTER TABLE cases ADD COLUMN shape INTEGER NOT NULL DEFAULT 1;
  CREATE INDEX cases_due ON cases(due_at) WHERE due_at IS NOT NULL;
  CREATE INDEX cases_by_status ON cases(status) WHERE status = 'escalated';
  CREATE INDEX conversations_by_case ON conversations(case_id);
  ALTER TABLE events ADD COLUMN words TEXT;
  ALTER TABLE events ADD COLUMN news INTEGER NOT NULL DEFAULT 0;
  CREATE INDEX events_news ON events(case_id, version) WHERE news = 1;
  CREATE TABLE readers (
    case_id TEXT NOT NULL REFERENCES cases(id),
    person TEXT NOT NULL,
    version INTEGER NOT NULL,
    PRIMARY KEY (case_id, person)
  ) STRICT, WITHOUT ROWID;
  CREATE INDEX readers_by_person ON readers(person);
  INSERT INTO readers (case_id, person, version)
    SELECT DISTINCT m.case_id, m.person, c.version FROM messages m JOIN cases c ON c.id = m.case_id
    WHERE m.person IS NOT NULL;
  `,
  // erasure: when a case was last emptied of its people, and the closed cases that still have them
  `
  ALTER TABLE cases ADD COLUMN erased_at TEXT;
  CREATE INDEX cases_to_forget ON cases(julianday(updated_at)) WHERE status = 'closed' AND erased_at IS NULL;
  `,
  // what is said by a chat server: where each case is talked in, what is still to be posted there and in which order,
  // by which name the people are known, and which process speaks for which part of the server.
  `
  ALTER TABLE outbox ADD COLUMN room TEXT;
  ALTER TABLE outbox ADD COLUMN seq INTEGER;
  ALTER TABLE outbox ADD COLUMN ask TEXT;
  ALTER TABLE outbox ADD COLUMN message TEXT;
  ALTER TABLE outbox ADD COLUMN tries INTEGER NOT NULL DEFAULT 0;
  ALTER TABLE outbox ADD COLUMN tried_at TEXT;
  ALTER TABLE outbox ADD COLUMN next_at TEXT;
  ALTER TABLE outbox ADD COLUMN failed TEXT;
  CREATE INDEX outbox_by_seq ON outbox(seq) WHERE seq IS NOT NULL;
  CREATE INDEX outbox_by_room ON outbox(room, seq) WHERE delivered_at IS NULL AND room IS NOT NULL;
  CREATE INDEX outbox_asks ON outbox(room, seq) WHERE ask IS NOT NULL;
  CREATE INDEX cases_by_update ON cases(updated_at);
  CREATE TABLE rooms (
    conversation TEXT PRIMARY KEY,
    place TEXT,
    guild TEXT,
    parent TEXT,
    owner TEXT NOT NULL,
    person TEXT NOT NULL,
    role TEXT NOT NULL,
    seen TEXT,
    opened_at TEXT NOT NULL
  ) STRICT;
  CREATE INDEX rooms_by_place ON rooms(place) WHERE place IS NOT NULL;
  CREATE INDEX rooms_by_owner ON rooms(owner);
  CREATE TABLE names (
    id TEXT PRIMARY KEY,
    name TEXT NOT NULL UNIQUE
  ) STRICT, WITHOUT ROWID;
  CREATE TABLE leases (
    shard TEXT PRIMARY KEY,
    holder TEXT NOT NULL,
    until TEXT NOT NULL
  ) STRICT, WITHOUT ROWID;
  `,
  // what was tapped on a chat server, from before it is acknowledged there until it is worked on
  `
  CREATE TABLE inbox (
    id TEXT PRIMARY KEY,
    at TEXT NOT NULL,
    person TEXT NOT NULL,
    body TEXT,
    starts INTEGER NOT NULL DEFAULT 0
  ) STRICT, WITHOUT ROWID;
  CREATE INDEX inbox_undone ON inbox(at) WHERE body IS NOT NULL;
  CREATE INDEX inbox_by_person ON inbox(person);
  `,
];

/** Refuses the file of a newer program, or of another one, before anything is written to it. */
export function refuseForeign(db: Database): void {
  const version = versionOf(db);
  if (version > MIGRATIONS.length)
    throw new StoreProblem(
      `${db.name} was written by a newer version of this program (schema ${version}, this one knows ${MIGRATIONS.length}): use that version, or another file`,
    );
  const tables = db.prepare<[], string>("SELECT name FROM sqlite_master WHERE type = 'table'").pluck().all();
  if (version === 0 ? tables.length > 0 : !tables.includes('cases'))
    throw new StoreProblem(`${db.name} is the database of another program: name another file with --db`);
}

export const NEWEST_SCHEMA = MIGRATIONS.length;

/** Brings a file to the newest schema, or to an earlier one, wholly or not at all. */
export function migrate(db: Database, to: number = NEWEST_SCHEMA): void {
  if (versionOf(db) === to) return;
  db.transaction(() => {
    refuseForeign(db);
    for (const sql of MIGRATIONS.slice(versionOf(db), to)) db.exec(sql);
    db.pragma(`user_version = ${to}`);
  }).immediate();
}

const versionOf = (db: Database): number => db.pragma('user_version', { simple: true }) as number;

/** Trouble with the store that a person can do something about: one clear line, no stack. */
export class StoreProblem extends Error {}
