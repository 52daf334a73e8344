/** A file of every earlier schema, built from the list of migrations, goes on where it was. */
import Sqlite from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import type { CaseEvent } from '../../src/case/events.js';
import { fold, newCase } from '../../src/case/state.js';
import { migrate, NEWEST_SCHEMA, StoreProblem } from '../../src/store/migrations.js';
import { openFile } from '../../src/store/open.js';
import { openStore } from '../../src/store/store.js';
import { temporaryFiles } from './temporary.js';

const newFile = temporaryFiles();
const at = '2026-03-02T18:30:00-05:00';
const CODE = 'ABCD2345';
const earlier = Array.from({ length: NEWEST_SCHEMA - 1 }, (_, i) => i + 1);

const EVENTS: readonly CaseEvent[] = [
  { type: 'opened', at, by: 'u1', role: 'homeowner' },
  { type: 'heard', at, by: 'u1', role: 'homeowner', kind: 'text' },
  { type: 'escalated', at, id: 'e1', kind: 'visit', urgency: 'routine' },
];

/** A file of this schema with a case that was handed over. Only columns that the first schema had are filled. */
function fileOf(schema: number): string {
  const path = newFile();
  const db = new Sqlite(path);
  migrate(db, schema);
  expect(db.pragma('user_version', { simple: true })).toBe(schema);
  db.prepare('INSERT INTO cases (id, version, state, opened_at, updated_at, status) VALUES (?, 3, ?, ?, ?, ?)').run(
    CODE,
    '{"version":3}',
    at,
    at,
    'escalated',
  );
  db.prepare('INSERT INTO conversations (channel, name, case_id) VALUES (?, ?, ?)').run('stdio', 'k1', CODE);
  const add = db.prepare('INSERT INTO events (case_id, version, at, type, data, person) VALUES (?, ?, ?, ?, ?, ?)');
  EVENTS.forEach(({ at: when, type, ...rest }, i) => {
    const { by, ...data } = rest as { by?: string };
    add.run(CODE, i + 1, when, type, JSON.stringify(data), by ?? null);
  });
  db.prepare(
    'INSERT INTO messages (case_id, seq, message_id, at, role, kind, person, said, answer) VALUES (?, 1, ?, ?, ?, ?, ?, ?, ?)',
  ).run(CODE, 'm1', at, 'homeowner', 'text', 'u1', '{"kind":"text","text":"frost"}', '{"reply":"Where is it?"}');
  db.prepare('INSERT INTO outbox (id, case_id, channel, kind, body, created_at) VALUES (?, ?, ?, ?, ?, ?)').run(
    'page-1',
    CODE,
    'stdio',
    'page',
    '# Page',
    at,
  );
  db.close();
  return path;
}

const schemaOf = (path: string): unknown => {
  const db = new Sqlite(path, { readonly: true });
  const all = db.prepare('SELECT type, name, tbl_name, sql FROM sqlite_master ORDER BY type, name').all();
  db.close();
  return all;
};

it('there is an earlier schema', () => expect(earlier.length).toBeGreaterThan(0));

describe.each(earlier)('schema %s', (schema) => {
  it('becomes the newest, and nothing of the case is lost', () => {
    const path = fileOf(schema);
    const store = openStore(path);
    expect(store.events(CODE)).toEqual(EVENTS);
    expect(store.caseOf('stdio', 'k1')).toBe(CODE);
    expect(store.answerTo(CODE, 'm1')).toEqual({ reply: 'Where is it?' });
    expect(store.messages(CODE)).toMatchObject([{ person: 'u1', said: { kind: 'text', text: 'frost' } }]);
    expect(store.waiting('stdio')).toMatchObject([{ id: 'page-1', caseId: CODE, body: '# Page' }]);
    expect(store.escalated()).toEqual([CODE]);
    expect(store.rebuild(CODE)).toEqual(fold(newCase(at, 'homeowner'), EVENTS));
    store.close();
    const db = new Sqlite(path, { readonly: true });
    expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
    expect(db.pragma('foreign_key_check')).toEqual([]);
    expect(db.pragma('user_version', { simple: true })).toBe(NEWEST_SCHEMA);
    db.close();
    const fresh = newFile();
    openFile(fresh).close();
    expect(schemaOf(path)).toEqual(schemaOf(fresh));
  });

  it('stays as it was when the way to the newest fails half-way', () => {
    const path = fileOf(schema);
    const db = new Sqlite(path);
    // what the last migration makes is there already, so that it fails after the others have run
    db.exec('CREATE INDEX inbox_undone ON cases(id)');
    db.close();
    const before = schemaOf(path);
    expect(() => openStore(path).close()).toThrow(StoreProblem);
    expect(schemaOf(path)).toEqual(before);
    const after = new Sqlite(path, { readonly: true });
    expect(after.pragma('user_version', { simple: true })).toBe(schema);
    expect(after.prepare('SELECT count(*) FROM events').pluck().get()).toBe(EVENTS.length);
    after.close();
  });
});
