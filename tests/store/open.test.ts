import Sqlite from 'better-sqlite3';
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { NEWEST_SCHEMA, StoreProblem } from '../../src/store/migrations.js';
import { openFile } from '../../src/store/open.js';
import { temporaryFiles } from './temporary.js';

const newFile = temporaryFiles();
const hashOf = (path: string): string => createHash('sha256').update(readFileSync(path)).digest('hex');

/** Refused in one line, and not a byte of the file is changed, nor left beside it. */
function refused(path: string): string {
  const before = hashOf(path);
  let message = '';
  try {
    openFile(path).close();
  } catch (error) {
    expect(error).toBeInstanceOf(StoreProblem);
    message = (error as Error).message;
  }
  expect(message).not.toBe('');
  expect(message).not.toContain('\n');
  expect(hashOf(path)).toBe(before);
  expect(['-wal', '-shm', '-journal'].filter((end) => existsSync(path + end))).toEqual([]);
  return message;
}

describe('a new file', () => {
  it('gets the whole schema, in folders that were not there', () => {
    const path = join(dirname(newFile()), 'one', 'two', 'cases.db');
    const db = openFile(path);
    const tables = db.prepare("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name").pluck().all();
    expect(tables).toEqual([
      'cases',
      'conversations',
      'events',
      'inbox',
      'leases',
      'messages',
      'names',
      'outbox',
      'readers',
      'rooms',
    ]);
    expect(db.pragma('user_version', { simple: true })).toBe(NEWEST_SCHEMA);
    db.close();
  });

  it('is migrated once, however often it is opened', () => {
    const path = newFile();
    openFile(path).close();
    const before = hashOf(path);
    openFile(path).close();
    expect(hashOf(path)).toBe(before);
  });

  it('may be there already, empty', () => {
    const path = newFile();
    writeFileSync(path, '');
    openFile(path).close();
    expect(statSync(path).size).toBeGreaterThan(0);
  });
});

// What each value means: SQLite's documentation of its pragmas (synchronous 2 = FULL, secure_delete 1 = ON)
describe('every connection', () => {
  it.each([
    ['journal_mode', 'wal'],
    ['synchronous', 2],
    ['secure_delete', 1],
    ['foreign_keys', 1],
    ['trusted_schema', 0],
  ])('has %s = %s, the first and the later ones', (pragma, value) => {
    const path = newFile();
    const first = openFile(path);
    const second = openFile(path);
    for (const db of [first, second]) expect(db.pragma(pragma, { simple: true })).toBe(value);
    first.close();
    second.close();
    const later = openFile(path);
    expect(later.pragma(pragma, { simple: true })).toBe(value);
    later.close();
  });

  it('leaves nothing of what was blanked in the file', () => {
    const path = newFile();
    const words = 'my name is nobody in particular';
    const db = openFile(path);
    const at = '2026-03-02T18:30:00Z';
    db.prepare('INSERT INTO cases (id, version, state, opened_at, updated_at, status) VALUES (?, 0, ?, ?, ?, ?)').run(
      'ABCD2345',
      '{}',
      at,
      at,
      'open',
    );
    db.prepare('INSERT INTO messages VALUES (?, 1, NULL, ?, ?, ?, ?, ?, NULL)').run(
      'ABCD2345',
      at,
      'homeowner',
      'text',
      'u1',
      words,
    );
    db.pragma('wal_checkpoint(TRUNCATE)');
    expect(readFileSync(path).includes(words)).toBe(true);
    db.prepare('UPDATE messages SET said = NULL').run();
    db.pragma('wal_checkpoint(TRUNCATE)');
    expect(readFileSync(path).includes(words)).toBe(false);
    db.close();
  });
});

describe('a file that is not ours is refused untouched:', () => {
  it.each(['wal', 'delete'])('one of a newer program, in journal mode %s', (mode) => {
    const path = newFile();
    openFile(path).close();
    const newer = new Sqlite(path);
    newer.pragma(`journal_mode = ${mode}`);
    newer.pragma('user_version = 99');
    newer.close();
    const message = refused(path);
    expect(message).toContain('newer version');
    expect(message).toContain('99');
  });

  it.each([0, 1])('the database of another program, of its version %s', (version) => {
    const path = newFile();
    const other = new Sqlite(path);
    other.exec('CREATE TABLE recipes (name TEXT); CREATE TABLE cooks (name TEXT)');
    other.pragma(`user_version = ${version}`);
    other.close();
    expect(refused(path)).toContain('another program');
  });

  it.each<[string, (path: string) => void]>([
    ['a text', (path) => writeFileSync(path, 'Defrost heater: 21 ohm. '.repeat(100))],
    ['a short text', (path) => writeFileSync(path, 'no database')],
    [
      'half a store',
      (path) => {
        openFile(path).close();
        writeFileSync(path, readFileSync(path).subarray(0, 5000));
      },
    ],
  ])('%s', (_, write) => {
    const path = newFile();
    write(path);
    const message = refused(path);
    expect(message).toContain('restore a backup');
    expect(message).toContain(path);
  });
});

describe('a path that cannot be a store', () => {
  it('is refused with what to do', () => {
    const path = newFile();
    writeFileSync(path, '');
    for (const wrong of [dirname(path), join(path, 'cases.db'), join(path, 'deeper', 'cases.db')]) {
      let message = '';
      try {
        openFile(wrong).close();
      } catch (error) {
        expect(error).toBeInstanceOf(StoreProblem);
        message = (error as Error).message;
      }
      expect(message).toContain(wrong);
      expect(message).toContain('--db');
    }
  });
});
