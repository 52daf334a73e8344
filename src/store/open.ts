/** Opens the store's file with the settings that make an acknowledged commit survive a power cut. */
import { accessSync, closeSync, constants, existsSync, mkdirSync, openSync, statSync } from 'node:fs';
import { dirname } from 'node:path';
import Sqlite, { type Database } from 'better-sqlite3';
import { migrate, refuseForeign, StoreProblem } from './migrations.js';

/** How long a writer waits for another process, in milliseconds. */
const BUSY_MS = 10_000;

export function openFile(path: string): Database {
  if (path === ':memory:') return openOnce(path);
  for (;;) {
    const file = fileAt(path);
    let db: Database | undefined;
    try {
      db = openOnce(path);
    } catch (error) {
      if (file === fileAt(path)) throw error;
    }
    // a restore put another file in its place while this one was opened: once it is open, none can
    if (db && file === fileAt(path)) return db;
    db?.close();
  }
}

/** Which file stands there; an empty one is made, that nobody but this user can read. */
function fileAt(path: string): number {
  try {
    makeFolder(dirname(path));
    if (!existsSync(path)) closeSync(openSync(path, 'a', 0o600));
    // SQLite would open it to read alone, and fail at the first message
    accessSync(path, constants.R_OK | constants.W_OK);
    return statSync(path).ino;
  } catch (error) {
    throw problem(path, error);
  }
}

function openOnce(path: string): Database {
  let db: Database;
  try {
    db = new Sqlite(path, { timeout: BUSY_MS });
  } catch (error) {
    throw problem(path, error);
  }
  try {
    refuseCut(db);
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

/** For what needs a store that is there: none is made. */
export function requireStore(path: string): void {
  if (!existsSync(path)) throw new StoreProblem(`there is no store at ${path}: name its file with --db`);
}

/** SQLite reads zeros where a last page was cut. Beside a log of its own a file may be in the middle of being written. */
function refuseCut(db: Database): void {
  if (!existsSync(db.name) || existsSync(`${db.name}-wal`)) return;
  const pageSize = db.pragma('page_size', { simple: true }) as number;
  if (statSync(db.name).size % pageSize !== 0) throw new StoreProblem(notWhole(db.name, 'its last page was cut'));
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

const notWhole = (path: string, why: string): string =>
  `${path} is not a whole store (${why}): restore a backup (thawline restore FILE), or name another file with --db`;

/** SQLite's trouble in one line that says what to do; the file is not touched. */
export function problem(path: string, error: unknown): Error {
  if (error instanceof StoreProblem) return error;
  const { code = '' } = error as { code?: string };
  const message = error instanceof Error ? error.message : String(error);
  if (code.startsWith('SQLITE_NOTADB') || code.startsWith('SQLITE_CORRUPT'))
    return new StoreProblem(notWhole(path, message));
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
