/** A copy of the store while others write, and a copy in its place: whole, checked, or nothing. */
import Sqlite from 'better-sqlite3';
import { copyFileSync, existsSync, readdirSync, readFileSync, statSync, truncateSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { CaseEvent } from '../../src/case/events.js';
import { fold, newCase } from '../../src/case/state.js';
import { backUp, restore } from '../../src/store/backup.js';
import { migrate, NEWEST_SCHEMA, StoreProblem } from '../../src/store/migrations.js';
import { openStore, type Store } from '../../src/store/store.js';
import { temporaryFiles } from './temporary.js';

const newFile = temporaryFiles();
const at = '2026-03-02T18:30:00Z';

/** A message in a case of its own. */
function write(store: Store, n: number): void {
  const events: CaseEvent[] = [{ type: 'opened', at, by: 'u1', role: 'homeowner' }];
  const stored = store.append({
    caseId: `CASE${1000 + n}`,
    channel: 'stdio',
    conversation: `k${n}`,
    from: 0,
    incoming: {
      conversation: `k${n}`,
      from: { id: 'u1', role: 'homeowner' },
      id: `m${n}`,
      at: null,
      said: { kind: 'text', text: 'frost' },
    },
    at,
    events,
    state: fold(newCase(at, 'homeowner'), events),
    answer: { status: 'open', reply: 'Where?' } as never,
    outbox: [],
  });
  expect(stored).toBe('stored');
}

function storeOf(cases: number): string {
  const path = newFile();
  const store = openStore(path);
  for (let n = 0; n < cases; n += 1) write(store, n);
  store.close();
  return path;
}

const leftBeside = (path: string): string[] =>
  readdirSync(dirname(path)).filter((name) => join(dirname(path), name).startsWith(`${path}.`));

const problemOf = (work: () => unknown): string => {
  try {
    work();
  } catch (error) {
    expect(error).toBeInstanceOf(StoreProblem);
    expect((error as Error).message).not.toContain('\n');
    return (error as Error).message;
  }
  throw new Error('it was not refused');
};

describe('a backup', () => {
  it('is one moment of a store that others have open and write to', () => {
    const path = storeOf(3);
    const store = openStore(path);
    write(store, 3);
    const other = new Sqlite(path);
    other.exec("BEGIN IMMEDIATE; DELETE FROM messages WHERE case_id = 'CASE1000'");
    const to = newFile();
    expect(backUp(path, to)).toEqual({ cases: 4, messages: 4 });
    other.exec('ROLLBACK');
    other.close();
    write(store, 4);
    const copy = openStore(to);
    expect(copy.cases()).toEqual(['CASE1000', 'CASE1001', 'CASE1002', 'CASE1003']);
    expect(copy.rebuild('CASE1003')).toEqual(copy.load('CASE1003'));
    copy.close();
    store.close();
  });

  it('is one file that nobody but its owner may read, and nothing is left beside it', () => {
    const to = newFile();
    backUp(storeOf(2), to);
    expect(statSync(to).mode & 0o777).toBe(0o600);
    expect(leftBeside(to)).toEqual([]);
    expect(['-wal', '-shm', '-journal'].filter((end) => existsSync(to + end))).toEqual([]);
  });

  it('of a spoilt store is none, and the one before stays', () => {
    const path = storeOf(40);
    const to = newFile();
    backUp(path, to);
    const before = readFileSync(to);
    const bytes = readFileSync(path);
    const root = rootOf(path, 'messages');
    bytes.fill(0x5a, (root - 1) * 4096, root * 4096);
    writeFileSync(path, bytes);
    expect(problemOf(() => backUp(path, to))).toContain('not a whole store');
    expect(readFileSync(to).equals(before)).toBe(true);
    expect(leftBeside(to)).toEqual([]);
  });

  it('cannot be made of no store, in no folder, or over the store itself', () => {
    const none = newFile();
    expect(problemOf(() => backUp(none, newFile()))).toContain('there is no store');
    expect(existsSync(none)).toBe(false);
    const path = storeOf(1);
    const before = readFileSync(path);
    expect(problemOf(() => backUp(path, path))).toContain('the store itself');
    expect(problemOf(() => backUp(path, join(dirname(path), 'no-folder', 'b.db')))).toContain('no-folder');
    expect(readFileSync(path).equals(before)).toBe(true);
  });
});

describe('a restore', () => {
  const backupOf = (cases: number): string => {
    const to = newFile();
    backUp(storeOf(cases), to);
    return to;
  };

  it('puts the backup in the place of the store, which goes on from there; the backup stays as it is', () => {
    const from = backupOf(3);
    const before = readFileSync(from);
    const path = storeOf(5);
    expect(restore(from, path)).toEqual({ cases: 3, messages: 3 });
    expect(readFileSync(from).equals(before)).toBe(true);
    expect(leftBeside(path)).toEqual([]);
    const store = openStore(path);
    expect(store.cases()).toHaveLength(3);
    write(store, 9);
    expect(store.cases()).toHaveLength(4);
    store.close();
  });

  it('makes a store where there was none, and keeps the rights of one that was there', () => {
    const path = newFile();
    restore(backupOf(2), path);
    expect(openStoreCases(path)).toBe(2);
    const old = storeOf(1);
    const mode = statSync(old).mode;
    restore(backupOf(2), old);
    expect(statSync(old).mode).toBe(mode);
  });

  it('replaces a store that cannot be read, and the log that belonged to it', () => {
    for (const spoil of [
      (p: string) => writeFileSync(p, 'no store at all'.repeat(400)),
      (p: string) => truncateSync(p, 5000),
      (p: string) => writeFileSync(p, ''),
    ]) {
      const path = storeOf(4);
      spoil(path);
      writeFileSync(`${path}-wal`, 'a log of something else');
      restore(backupOf(2), path);
      expect(existsSync(`${path}-wal`)).toBe(false);
      expect(openStoreCases(path)).toBe(2);
    }
  });

  it('takes up what a killed program had acknowledged but not yet put into the file', () => {
    const path = storeOf(1);
    const killed = newFile();
    const store = openStore(path);
    write(store, 1);
    for (const end of ['', '-wal']) copyFileSync(path + end, killed + end);
    store.close();
    const backup = newFile();
    expect(backUp(killed, backup)).toEqual({ cases: 2, messages: 2 });
  });

  it('is refused while anybody has the store open, and nothing changes', () => {
    const from = backupOf(3);
    const path = storeOf(5);
    const store = openStore(path);
    expect(problemOf(() => restore(from, path))).toContain('open in another program');
    write(store, 7);
    expect(store.cases()).toHaveLength(6);
    expect(leftBeside(path)).toEqual([]);
    store.close();
    restore(from, path);
    expect(openStoreCases(path)).toBe(3);
  });

  it.each<[string, (path: string) => void, string]>([
    ['a text', (p) => writeFileSync(p, 'frost '.repeat(1000)), 'not a whole store'],
    ['cut', (p) => truncateSync(p, statSync(p).size - 100), 'not a whole store'],
    ['spoilt where only a whole check sees it', spoilIndex, 'not a whole store'],
    ['of a newer version', (p) => pragma(p, 'user_version = 99'), 'newer version'],
    ['the database of another program', otherProgram, 'another program'],
    ['left by a program that was killed', (p) => writeFileSync(`${p}-wal`, 'x'), 'thawline backup'],
  ])('of a backup that is %s is refused before anything is replaced', (_, spoil, why) => {
    const from = backupOf(30);
    spoil(from);
    const path = storeOf(5);
    const before = readFileSync(path);
    const backup = readFileSync(from);
    const message = problemOf(() => restore(from, path));
    expect(message).toContain(why);
    expect(message).toContain(from);
    expect(readFileSync(path).equals(before)).toBe(true);
    expect(readFileSync(from).equals(backup)).toBe(true);
    expect(leftBeside(path)).toEqual([]);
  });

  it('of a backup of every earlier schema brings it to the newest', () => {
    for (let schema = 1; schema < NEWEST_SCHEMA; schema += 1) {
      const from = newFile();
      const db = new Sqlite(from);
      migrate(db, schema);
      db.close();
      const path = storeOf(2);
      expect(restore(from, path)).toEqual({ cases: 0, messages: 0 });
      pragmaIs(path, NEWEST_SCHEMA);
    }
  });
});

function openStoreCases(path: string): number {
  const store = openStore(path);
  const { length } = store.cases();
  store.close();
  return length;
}

function pragma(path: string, text: string): void {
  const db = new Sqlite(path);
  db.pragma(text);
  db.close();
}

function pragmaIs(path: string, version: number): void {
  const db = new Sqlite(path);
  expect(db.pragma('user_version', { simple: true })).toBe(version);
  db.close();
}

function otherProgram(path: string): void {
  writeFileSync(path, '');
  const db = new Sqlite(path);
  db.exec('CREATE TABLE recipes (name TEXT)');
  db.close();
}

function rootOf(path: string, name: string): number {
  const db = new Sqlite(path);
  const root = db.prepare<[string], number>('SELECT rootpage FROM sqlite_master WHERE name = ?').pluck().get(name);
  db.close();
  return root ?? 0;
}

/** An entry of an index that no longer says what its row says. */
function spoilIndex(path: string): void {
  const root = rootOf(path, 'messages_by_id');
  const bytes = readFileSync(path);
  const page = bytes.subarray((root - 1) * 4096, root * 4096);
  const spot = page.indexOf('CASE1007');
  expect(spot).toBeGreaterThan(0);
  page.write('CASE9999', spot);
  writeFileSync(path, bytes);
}
