/**
 * A copy of the store while others write to it, and a copy back in its place. A copy is checked before it is called one
 * and before it replaces anything; what is there is whole or as it was.
 */
import Sqlite, { type Database } from 'better-sqlite3';
import {
  chmodSync,
  chownSync,
  closeSync,
  copyFileSync,
  existsSync,
  fsyncSync,
  openSync,
  readdirSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
} from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { StoreProblem } from './migrations.js';
import { openFile, problem, requireStore } from './open.js';

export interface Copied {
  readonly cases: number;
  readonly messages: number;
}

/** One moment of the store, in a file of its own without a log; a file that is there already is replaced. */
export function backUp(path: string, to: string): Copied {
  requireStore(path);
  if (sameFile(path, to)) throw new StoreProblem(`${to} is the store itself: name another file for the backup`);
  return throughDraft(to, (draft) => {
    const db = openFile(path);
    try {
      // nobody but this user may read it: SQLite fills an empty file
      closeSync(openSync(draft, 'w', 0o600));
      db.prepare('VACUUM INTO ?').run(draft);
    } catch (error) {
      throw problem(to, error);
    } finally {
      db.close();
    }
    const copied = checked(to, draft);
    renameSync(draft, to);
    return copied;
  });
}

/** A backup in the place of the store, which no other program may have open. Its own file stays as it is. */
export function restore(from: string, path: string): Copied {
  if (sameFile(from, path)) throw new StoreProblem(`${from} is the store itself: name a backup`);
  if (existsSync(`${from}-wal`))
    throw new StoreProblem(
      `${from} is open in a program, or was left by one: make a backup of it with thawline backup`,
    );
  return throughDraft(path, (draft) => {
    try {
      copyFileSync(from, draft);
    } catch (error) {
      throw problem((error as { code?: string }).code === 'ENOSPC' ? path : from, error);
    }
    const copied = checked(from, draft, true);
    if (existsSync(path)) likeBefore(path, draft);
    alone(path, () => {
      // a log that belongs to another file would be taken for this one's
      for (const end of ['-wal', '-shm', '-journal']) rmSync(path + end, { force: true });
      renameSync(draft, path);
    });
    return copied;
  });
}

function throughDraft<T>(path: string, work: (draft: string) => T): T {
  removeDrafts(path);
  const draft = `${path}.${process.pid}`;
  try {
    const done = work(draft);
    sync(dirname(path));
    return done;
  } catch (error) {
    throw problem(path, error);
  } finally {
    for (const end of ['', '-wal', '-shm', '-journal']) rmSync(draft + end, { force: true });
  }
}

/** Drafts of programs that were killed: they hold people's words, and nobody else would ever take them away. */
function removeDrafts(path: string): void {
  const folder = dirname(path);
  if (!existsSync(folder)) return;
  for (const name of readdirSync(folder)) {
    const [, pid] = name.startsWith(`${basename(path)}.`) ? (/\.(\d+)(?:-wal|-shm|-journal)?$/.exec(name) ?? []) : [];
    if (pid !== undefined && !isRunning(Number(pid))) rmSync(join(folder, name), { force: true });
  }
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as { code?: string }).code === 'EPERM';
  }
}

/** The draft brought to the newest schema, whole, in one file and on the disk; `name` is what a person calls it. */
function checked(name: string, draft: string, begins = false): Copied {
  try {
    const db = openFile(draft);
    try {
      const sound = db.pragma('integrity_check', { simple: true });
      if (sound !== 'ok' || (db.pragma('foreign_key_check') as unknown[]).length > 0)
        throw new StoreProblem(`${draft} is not a whole store (${String(sound)}): take another backup`);
      // whoever spoke for the store when it was copied does not speak for this one
      if (begins) db.exec('DELETE FROM leases; DELETE FROM inbox');
      db.pragma('journal_mode = DELETE');
      const count = (table: string): number =>
        db.prepare<[], number>(`SELECT count(*) FROM ${table}`).pluck().get() ?? 0;
      return { cases: count('cases'), messages: count('messages') };
    } finally {
      db.close();
      sync(draft);
    }
  } catch (error) {
    const known = problem(draft, error);
    throw known instanceof StoreProblem ? new StoreProblem(known.message.replaceAll(draft, name)) : known;
  }
}

/** Runs work while no other program has the store open; one that cannot be read has nobody who could work with it. */
function alone(path: string, work: () => void): void {
  let db: Database | undefined;
  try {
    if (existsSync(path)) {
      db = new Sqlite(path, { timeout: 0 });
      // a store with a log leaves it only when nobody else is there (SQLite's documentation of journal_mode)
      if (db.pragma('journal_mode = DELETE', { simple: true }) !== 'delete') throw inUse(path);
      db.exec('BEGIN EXCLUSIVE');
    }
  } catch (error) {
    const { code = '' } = error as { code?: string };
    if (code.startsWith('SQLITE_BUSY')) {
      db?.close();
      throw inUse(path);
    }
    if (!code.startsWith('SQLITE_NOTADB') && !code.startsWith('SQLITE_CORRUPT')) {
      db?.close();
      throw error;
    }
  }
  try {
    work();
  } finally {
    db?.close();
  }
}

const inUse = (path: string): StoreProblem =>
  new StoreProblem(`${path} is open in another program: end that program, then restore again. Nothing was changed.`);

/** The owner and the rights of the file that is replaced, where this user may give them. */
function likeBefore(path: string, draft: string): void {
  const { uid, gid, mode } = statSync(path);
  chmodSync(draft, mode);
  const own = statSync(draft);
  if (own.uid !== uid || own.gid !== gid) chownSync(draft, uid, gid);
}

const sameFile = (one: string, other: string): boolean =>
  existsSync(one) && existsSync(other) && realpathSync(one) === realpathSync(other);

function sync(path: string): void {
  const file = openSync(path, 'r');
  fsyncSync(file);
  closeSync(file);
}
