/** Opens the store's file with the settings that make an acknowledged commit survive a power cut. */
import { existsSync, mkdirSync } from 'node:fs';
import { dirname } from 'node:path';
import Sqlite, { type Database } from 'better-sqlite3';
import { migrate, refuseForeign, StoreProblem } from './migrations.js';

/** How long a writer waits for another process, in milliseconds. */
const BUSY_MS = 10_000;

export function openFile(path: string): Database {
  let db: Database;
  try {
    makeFolder(dirname(path));
    db = new Sqlite(path, { timeout: BUSY_MS });
  } catch (error) {
    throw problem(path, error);
  }
  try {
    refuseForeign(db);
    db.pragma('journal_mode = WAL');
    // better-sqlite3 is built with NORMAL for WAL files: without this a power cut could lose acknowledged commits
    db.pragma('synchronous = FULL');
    db.pragma('foreign_keys = ON');
    db.pragma('secure_delete = ON');
    db.pragma('trusted_schema = OFF');
    migrate(db);
    return db;
  } catch (error) {
    db.close();
    throw problem(path, error);
  }
}

/** One level at a time: Node's own recursive way never returns where the system lets no folder be made. */
function makeFolder(path: string): void {
  if (existsSync(path)) return;
  makeFolder(dirname(path));
  try {
    mkdirSync(path);
  } catch (error) {
    if (!existsSync(path)) throw error;
  }
}

/** SQLite's trouble in one line that says what to do; the file is not touched. */
export function problem(path: string, error: unknown): Error {
  if (error instanceof StoreProblem) return error;
  const { code = '' } = error as { code?: string };
  const message = error instanceof Error ? error.message : String(error);
  if (code.startsWith('SQLITE_NOTADB') || code.startsWith('SQLITE_CORRUPT'))
    return new StoreProblem(
      `${path} is not a whole store (${message}): restore a backup, or name another file with --db`,
    );
  if (code.startsWith('SQLITE_READONLY') || code === 'EACCES' || code === 'EROFS')
    return new StoreProblem(
      `${path} cannot be written (${message}): give this user the right to write it, or name another file with --db`,
    );
  if (code.startsWith('SQLITE_BUSY'))
    return new StoreProblem(`${path} is locked by another program: end that program, then try again`);
  if (code.startsWith('SQLITE_FULL') || code === 'ENOSPC')
    return new StoreProblem(`there is no room left on the disk of ${path}: make room, then try again`);
  if (code.startsWith('SQLITE_CANTOPEN') || code === 'ENOENT' || code === 'ENOTDIR' || code === 'EISDIR')
    return new StoreProblem(
      `${path} cannot be opened (${message}): name a file in a folder that can be written, with --db`,
    );
  if (code.startsWith('SQLITE_')) return new StoreProblem(`${path}: ${message}`);
  return error instanceof Error ? error : new Error(message);
}
