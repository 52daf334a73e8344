/** `thawline backup` and `thawline restore` as an operator's shell runs them. */
import Sqlite from 'better-sqlite3';
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import type { Answer } from '../../src/message/outgoing.js';
import { newFolder, outLines, run, start, type Ended, type Running } from './program.js';

const from = { id: 'u1', role: 'homeowner' };
const command = (db: string, ...args: readonly string[]): Promise<Ended> => run([...args, '--db', db]);

async function say(program: Running, n: number): Promise<Answer> {
  const answer = { finding: 'frost.location', value: n % 2 ? 'freezer-floor' : 'freezer-back-wall' };
  program.write(JSON.stringify({ case: 'k1', id: `m${n}`, from, answer }));
  return JSON.parse((await program.next()) ?? 'null') as Answer;
}

describe('a backup while the talk goes on, and back', () => {
  it('holds what was answered before it, and the talk goes on from there with the same answers', async () => {
    const folder = newFolder();
    const db = join(folder, 'cases.db');
    const file = join(folder, 'monday.db');
    const program = start(['stdio', '--db', db]);
    const answers: Answer[] = [];
    for (let n = 0; n < 5; n += 1) answers.push(await say(program, n));
    const { code, out, err } = await command(db, 'backup', file);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toContain('1 cases, 5 messages');
    for (let n = 5; n < 8; n += 1) await say(program, n);

    // nothing is replaced under a running program, nor is a backup
    const busy = await command(db, 'restore', file);
    expect(busy).toMatchObject({ code: 1, out: '' });
    expect(outLines(busy.err)).toEqual([expect.stringContaining('open in another program')]);
    const kept = readFileSync(file);
    expect(await command(db, 'backup', file)).toMatchObject({ code: 2, err: expect.stringContaining('--replace') });
    expect(readFileSync(file).equals(kept)).toBe(true);
    expect((await say(program, 8)).case).toBe('k1');
    program.child.stdin.end();
    expect((await program.ended).code).toBe(0);

    writeFileSync(db, 'the disk had a bad day');
    expect((await command(db, 'export', 'X')).err).toContain('thawline restore FILE');
    expect(await command(db, 'restore', file)).toMatchObject({ code: 0, err: '' });
    const again = start(['stdio', '--db', db]);
    for (let n = 0; n < 5; n += 1) expect(await say(again, n)).toEqual(answers[n]);
    again.child.stdin.end();
    expect((await again.ended).code).toBe(0);
    expect((await command(db, 'backup', file, '--replace')).code).toBe(0);
    expect(readdirSync(folder).sort()).toEqual(['cases.db', 'monday.db']);
  });

  it('killed at any moment leave the store whole and the backup whole or as it was, and no draft for long', async () => {
    const folder = newFolder();
    const db = join(folder, 'cases.db');
    const file = join(folder, 'b.db');
    const program = start(['stdio', '--db', db]);
    for (let n = 0; n < 30; n += 1) await say(program, n);
    program.child.stdin.end();
    await program.ended;
    // as long as one takes here, start included: the kills fall before, within and after the work
    const began = performance.now();
    expect((await command(db, 'backup', file)).code).toBe(0);
    const whole = performance.now() - began;
    for (let n = 0; n < 16; n += 1) {
      const words = n % 2 ? ['restore', file] : ['backup', file, '--replace'];
      const { child, ended } = start([...words, '--db', db]);
      await wait((whole * (n + 4)) / 20);
      child.kill('SIGKILL');
      await ended;
      for (const path of [db, file]) {
        const copy = new Sqlite(path, { readonly: true });
        expect(copy.pragma('integrity_check', { simple: true })).toBe('ok');
        expect(copy.prepare('SELECT count(*) FROM messages').pluck().get()).toBe(30);
        copy.close();
      }
    }
    expect((await command(db, 'backup', file, '--replace')).code).toBe(0);
    expect((await command(db, 'restore', file)).code).toBe(0);
    expect(
      readdirSync(folder)
        .filter((name) => name.includes('.db'))
        .sort(),
    ).toEqual(['b.db', 'cases.db']);
  });

  it('without a store, a file or a name is refused in one line and makes nothing', async () => {
    const db = join(newFolder(), 'cases.db');
    const file = join(dirname(db), 'b.db');
    for (const [exit, ...args] of [
      [1, 'backup', file],
      [2, 'backup'],
      [2, 'restore'],
      [2, 'restore', file],
      [2, 'restore', file, file],
    ] as const) {
      const { code, out, err } = await command(db, ...args);
      expect({ args, code, out, lines: outLines(err).length }).toEqual({ args, code: exit, out: '', lines: 1 });
    }
    expect(existsSync(db) || existsSync(file)).toBe(false);
  });
});
