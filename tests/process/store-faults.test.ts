/**
 * A store that cannot be used, as a person's shell meets it: one clear line, exit code 1, and not a byte of the file is
 * changed. What SQLite does in each case is its own documentation (result codes NOTADB, CORRUPT, READONLY, CANTOPEN,
 * BUSY, FULL).
 */
import Sqlite from 'better-sqlite3';
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  chmodSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Answer } from '../../src/message/outgoing.js';
import { openStore } from '../../src/store/store.js';
import { jsonLines, newFolder, outLines, run, start } from './program.js';

const from = { id: 'u1', role: 'homeowner' };
const answer = { case: 'k1', from, answer: { finding: 'frost.location', value: 'freezer-back-wall' } };

/** A sound store with one case that was handed over; copied for each fault. */
let sound = '';
let code = '';
beforeAll(async () => {
  sound = join(newFolder(), 'sound.db');
  const { out } = await run(
    ['stdio', '--db', sound],
    jsonLines([answer, { case: 'k1', from, text: 'there is a burning smell' }]),
  );
  code = (JSON.parse(outLines(out)[1] ?? 'null') as Answer).caseId;
});

function copy(): string {
  const path = join(newFolder(), 'cases.db');
  copyFileSync(sound, path);
  return path;
}

const COMMANDS = (): readonly (readonly string[])[] => [
  ['stdio'],
  ['desk', 'claim', code, '--as', 'Ana'],
  ['export', code],
];

const bytesIn = (folder: string): Record<string, string> =>
  Object.fromEntries(
    readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((f) => f.isFile())
      .map((f) => {
        const path = join(f.parentPath, f.name);
        return [path, createHash('sha256').update(readFileSync(path)).digest('hex')];
      }),
  );

/** Every command refuses this file; nothing in its folder is changed, nothing is added. */
async function refusedByAll(db: string, options: Parameters<typeof run>[2] = {}): Promise<string[]> {
  const before = bytesIn(dirname(db));
  const said: string[] = [];
  for (const args of COMMANDS()) {
    const { code: exit, out, err } = await run([...args, '--db', db], jsonLines([answer]), options);
    expect({ args, exit, out, lines: outLines(err).length, err }).toMatchObject({ exit: 1, out: '', lines: 1 });
    expect(err).toContain(db);
    expect(bytesIn(dirname(db))).toEqual(before);
    said.push(err);
  }
  return said;
}

describe.concurrent('a file that cannot be used', () => {
  it('of a newer version names both versions', async () => {
    const db = copy();
    const file = new Sqlite(db);
    file.pragma('user_version = 99');
    file.close();
    for (const err of await refusedByAll(db)) expect(err).toMatch(/newer version .*99/);
  });

  it('that was cut asks for a backup', async () => {
    const db = copy();
    const whole = readFileSync(db);
    writeFileSync(db, whole.subarray(0, Math.floor(whole.length / 2)));
    for (const err of await refusedByAll(db)) expect(err).toContain('restore a backup');
  });

  it('of zeros, or with a spoilt first page, asks for a backup', async () => {
    for (const spoil of [(b: Buffer) => b.fill(0, 0, 100), (b: Buffer) => b.fill(0xff, 100, 4096)]) {
      const db = copy();
      const bytes = readFileSync(db);
      spoil(bytes);
      writeFileSync(db, bytes);
      for (const err of await refusedByAll(db)) expect(err).toContain(db);
    }
  });
});

describe('a file that another program holds', () => {
  it('is waited for, then the line gets store-unavailable; the file is untouched', async () => {
    const db = copy();
    const program = start(['stdio', '--db', db]);
    program.write(JSON.stringify({ case: 'k1', from, poll: true }));
    expect(JSON.parse((await program.next()) ?? 'null')).toMatchObject({ caseId: code });
    const before = readFileSync(db);
    // from here on this process must not open the file another way: closing it would drop the lock (POSIX)
    const holder = new Sqlite(db);
    holder.exec('BEGIN IMMEDIATE');
    program.write(JSON.stringify(answer));
    const refused = JSON.parse((await program.next()) ?? 'null') as unknown;
    expect(refused).toMatchObject({ error: { code: 'store-unavailable', message: expect.stringContaining('locked') } });
    const { code: exit, err } = await program.ended;
    expect(exit).toBe(1);
    expect(outLines(err)).toHaveLength(1);
    holder.close();
    expect(readFileSync(db)).toEqual(before);
    const again = await run(['stdio', '--db', db], jsonLines([answer]));
    expect(again.code).toBe(0);
  }, 120_000);
});

// as the superuser nothing is read-only: then the program runs as somebody else, where it may read its own files
const nobody = process.getuid?.() === 0 ? 65_534 : undefined;
const canRun =
  nobody === undefined || spawnSync(process.execPath, ['-e', ''], { uid: nobody, gid: nobody }).status === 0;

describe.skipIf(!canRun)('a file that this user may not write', () => {
  it.each<[string, number, number]>([
    ['in a folder that is read-only too', 0o444, 0o555],
    ['in a folder where files can be made', 0o444, 0o777],
  ])('%s is refused untouched', async (_, file, folder) => {
    const db = copy();
    chmodSync(db, file);
    // the folder of this test file
    const base = dirname(dirname(db));
    chmodSync(base, 0o755);
    chmodSync(dirname(db), folder);
    const options = nobody === undefined ? {} : { uid: nobody };
    try {
      for (const err of await refusedByAll(db, options)) expect(err).toMatch(/right to write|can be written/);
    } finally {
      chmodSync(dirname(db), 0o755);
      chmodSync(db, 0o644);
    }
  });

  it('in a folder where none can be made is refused untouched', async () => {
    const db = copy();
    chmodSync(db, 0o666);
    chmodSync(dirname(dirname(db)), 0o755);
    chmodSync(dirname(db), 0o555);
    try {
      await refusedByAll(db, nobody === undefined ? {} : { uid: nobody });
    } finally {
      chmodSync(dirname(db), 0o755);
    }
  });
});

// a small disk of its own, where this user may mount one; the same without a disk: tests/store/faults.test.ts
const disk = join(newFolder(), 'disk');
const mounted =
  process.platform === 'linux' &&
  (mkdirSync(disk), spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=300k', 'tmpfs', disk]).status === 0);
afterAll(() => void (mounted && spawnSync('umount', ['-l', disk])));

describe.skipIf(!mounted)('a disk that fills up', () => {
  it('loses nothing that was answered, takes nothing half, and goes on once there is room', async () => {
    const db = join(disk, 'cases.db');
    const lines = Array.from({ length: 200 }, (_, n) => ({ ...answer, id: `m${n}` }));
    const { code: exit, out, err } = await run(['stdio', '--db', db], jsonLines(lines));
    expect(exit).toBe(1);
    expect(outLines(err).filter((l) => l.includes('no room left on the disk'))).toHaveLength(1);
    const got = outLines(out).map((l) => JSON.parse(l) as Answer | { error: { code: string } });
    expect(got.at(-1)).toMatchObject({ error: { code: 'store-unavailable' } });
    const answered = got.length - 1;
    expect(answered).toBeGreaterThan(0);
    expect(answered).toBeLessThan(200);

    expect(spawnSync('mount', ['-o', 'remount,size=20m', disk]).status).toBe(0);
    const store = openStore(db);
    const caseId = store.caseOf('stdio', 'k1') ?? '';
    expect(store.messages(caseId)).toHaveLength(answered);
    expect(store.rebuild(caseId)).toEqual(store.load(caseId));
    store.close();
    const again = await run(['stdio', '--db', db], jsonLines(lines));
    expect(again.code).toBe(0);
    expect(outLines(again.out).slice(0, answered)).toEqual(outLines(out).slice(0, answered));
    expect(statSync(db).size).toBeGreaterThan(0);
    expect(existsSync(`${db}-journal`)).toBe(false);
  }, 120_000);
});
