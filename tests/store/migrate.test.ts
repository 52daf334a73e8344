/** A file of the first schema, as the first version left it, goes on where it was. */
import Sqlite from 'better-sqlite3';
import { expect, it } from 'vitest';
import { fold, newCase } from '../../src/case/state.js';
import type { CaseEvent } from '../../src/case/events.js';
import { openStore } from '../../src/store/store.js';
import { temporaryFiles } from './temporary.js';

const newFile = temporaryFiles();
const at = '2026-03-02T18:30:00-05:00';
const CODE = 'ABCD2345';

/** The tables of the first schema, with one case of two events that was handed over. */
function firstSchema(path: string): void {
  const db = new Sqlite(path);
  db.exec(`
    CREATE TABLE cases (id TEXT PRIMARY KEY, version INTEGER NOT NULL, state TEXT NOT NULL, opened_at TEXT NOT NULL,
      updated_at TEXT NOT NULL, status TEXT NOT NULL) STRICT;
    CREATE TABLE conversations (channel TEXT NOT NULL, name TEXT NOT NULL, case_id TEXT NOT NULL REFERENCES cases(id),
      PRIMARY KEY (channel, name)) STRICT, WITHOUT ROWID;
    CREATE TABLE messages (case_id TEXT NOT NULL REFERENCES cases(id), seq INTEGER NOT NULL, message_id TEXT,
      at TEXT NOT NULL, role TEXT NOT NULL, kind TEXT NOT NULL, person TEXT, said TEXT, answer TEXT,
      PRIMARY KEY (case_id, seq)) STRICT, WITHOUT ROWID;
    CREATE UNIQUE INDEX messages_by_id ON messages(case_id, message_id) WHERE message_id IS NOT NULL;
    CREATE INDEX messages_by_person ON messages(person) WHERE person IS NOT NULL;
    CREATE TABLE events (case_id TEXT NOT NULL REFERENCES cases(id), version INTEGER NOT NULL, at TEXT NOT NULL,
      type TEXT NOT NULL, data TEXT NOT NULL, person TEXT, PRIMARY KEY (case_id, version)) STRICT, WITHOUT ROWID;
    CREATE TABLE outbox (id TEXT PRIMARY KEY, case_id TEXT NOT NULL REFERENCES cases(id), channel TEXT NOT NULL,
      kind TEXT NOT NULL, body TEXT, created_at TEXT NOT NULL, delivered_at TEXT) STRICT, WITHOUT ROWID;
    CREATE INDEX outbox_waiting ON outbox(channel, created_at) WHERE delivered_at IS NULL;
    PRAGMA user_version = 1;
  `);
  // a state as the first version folded it: without what came later
  db.prepare('INSERT INTO cases VALUES (?, 3, ?, ?, ?, ?)').run(CODE, '{"version":3}', at, at, 'escalated');
  db.prepare('INSERT INTO conversations VALUES (?, ?, ?)').run('stdio', 'k1', CODE);
  const event = db.prepare('INSERT INTO events VALUES (?, ?, ?, ?, ?, ?)');
  event.run(CODE, 1, at, 'opened', '{"role":"homeowner"}', 'u1');
  event.run(CODE, 2, at, 'heard', '{"role":"homeowner","kind":"text"}', 'u1');
  event.run(CODE, 3, at, 'escalated', '{"id":"e1","kind":"visit","urgency":"routine"}', null);
  const message = db.prepare('INSERT INTO messages VALUES (?, 1, NULL, ?, ?, ?, ?, ?, NULL)');
  message.run(CODE, at, 'homeowner', 'text', 'u1', '{"kind":"text","text":"frost"}');
  db.prepare('INSERT INTO outbox VALUES (?, ?, ?, ?, ?, ?, NULL)').run('page-1', CODE, 'stdio', 'page', '# Page', at);
  db.close();
}

it('keeps every event, folds its state anew, and tells its people of nothing that was before', () => {
  const path = newFile();
  firstSchema(path);
  const store = openStore(path);
  const events: CaseEvent[] = [
    { type: 'opened', at, by: 'u1', role: 'homeowner' },
    { type: 'heard', at, by: 'u1', role: 'homeowner', kind: 'text' },
    { type: 'escalated', at, id: 'e1', kind: 'visit', urgency: 'routine' },
  ];
  expect(store.events(CODE)).toEqual(events);
  expect(store.load(CODE)).toEqual(fold(newCase(at, 'homeowner'), events));
  expect(store.escalated()).toEqual([CODE]);
  expect(store.waiting('stdio').map((w) => w.body)).toEqual(['# Page']);
  expect(store.newsFor(CODE, 'u1')).toEqual({ mark: 3, upTo: 3, events: [] });
  store.close();
});

it('what happens from then on is told', () => {
  const path = newFile();
  firstSchema(path);
  const store = openStore(path);
  const claimed: CaseEvent = { type: 'claimed', at, by: 'Ana' };
  const before = store.load(CODE);
  if (!before) throw new Error('no case');
  const happening = {
    caseId: CODE,
    from: 3,
    at,
    events: [claimed],
    state: fold(before, [claimed]),
    status: 'escalated',
    dueAt: '2026-03-04T00:00:00.000Z',
    renewed: { 'page-1': '# Renewed', 'page-of-nobody': 'x' },
  } as const;
  expect(store.happen(happening)).toBe('stored');
  expect(store.happen(happening)).toBe('conflict');
  expect(store.newsFor(CODE, 'u1').events).toEqual([claimed]);
  expect(store.newsFor(CODE, 'Ana').events).toEqual([]);
  expect(store.waiting('stdio').map((w) => w.body)).toEqual(['# Renewed']);
  expect(store.due('stdio', '2026-03-03T23:59:59.999Z')).toEqual([]);
  expect(store.due('stdio', '2026-03-04T00:00:00.000Z')).toEqual([CODE]);
  expect(store.due('terminal', '2027-01-01T00:00:00.000Z')).toEqual([]);
  store.close();
});

it("a person's words and name stand in columns of their own, and an erased one is still read", () => {
  const path = newFile();
  firstSchema(path);
  const store = openStore(path);
  const asked: CaseEvent = { type: 'desk-asked', at, by: 'Ana', text: 'Is it rented?' };
  const state = fold(store.load(CODE) ?? newCase(at, 'homeowner'), [asked]);
  const status = 'escalated';
  store.happen({ caseId: CODE, from: 3, at, events: [asked], state, status, dueAt: null, renewed: {} });
  expect(JSON.stringify(store.load(CODE))).not.toContain('rented');
  const db = new Sqlite(path);
  expect(db.prepare("SELECT data, person, words FROM events WHERE type = 'desk-asked'").get()).toEqual({
    data: '{}',
    person: 'Ana',
    words: '{"text":"Is it rented?"}',
  });
  db.exec("UPDATE events SET person = NULL, words = NULL WHERE type = 'desk-asked'");
  db.close();
  expect(store.events(CODE).at(-1)).toEqual({ type: 'desk-asked', at, by: '', text: null });
  store.close();
});

it('what a person was told, and what is due, is found by an index', () => {
  const path = newFile();
  openStore(path).close();
  const db = new Sqlite(path);
  const plan = (sql: string): string =>
    db
      .prepare<[], { detail: string }>(`EXPLAIN QUERY PLAN ${sql}`)
      .all()
      .map((row) => row.detail)
      .join('; ');
  const news =
    "SELECT at FROM events INDEXED BY events_news WHERE case_id = 'x' AND news = 1 AND version > 3 ORDER BY version";
  expect(plan(news)).toContain('events_news');
  expect(plan("SELECT id FROM cases WHERE due_at <= '2026'")).toContain('cases_due');
  expect(plan("SELECT id FROM cases WHERE status = 'escalated'")).toContain('cases_by_status');
  db.close();
});
