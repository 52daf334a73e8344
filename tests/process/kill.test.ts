/** What is left when the process is killed at any moment, and when two processes write to one file at once. */
import Sqlite from 'better-sqlite3';
import { setTimeout as wait } from 'node:timers/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Answer } from '../../src/message/outgoing.js';
import { openStore } from '../../src/store/store.js';
import { newFolder, start, type Running } from './program.js';

const KILLS = 15;
const SEED = 20260302;

/** Random numbers of 0 to 1, the same ones in each run (mulberry32). */
function randomFrom(seed: number): () => number {
  let a = seed;
  return () => {
    a = (a + 0x6d2b79f5) | 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}

const homeowner = { id: 'u1', role: 'homeowner' };
const technician = { id: 'u2', role: 'technician' };

/** A long talk of all kinds of message. Among its texts is a danger, so that pages are written too. */
function message(n: number, conversation: string, prefix = 'm'): string {
  const head = { case: conversation, id: `${prefix}${n}` };
  const said = [
    { from: homeowner, answer: { finding: 'frost.location', value: ['freezer-back-wall', 'freezer-floor'] } },
    {
      from: technician,
      reading: { part: 'defrost-sensor', quantity: 'resistance', value: 5 + (n % 9), unit: 'kohm', atC: n % 25 },
    },
    { from: homeowner, answer: { finding: 'frost.kind', value: n % 2 ? 'soft-snow' : 'hard-white' } },
    {
      from: technician,
      answer: { finding: 'unit.defrost-control', value: n % 4 ? 'electronic-control' : 'mechanical-timer' },
    },
    { from: homeowner, answer: { finding: 'drain.condition', value: 'not-sure' } },
    {
      from: technician,
      reading: { part: 'defrost-thermostat', quantity: 'continuity', value: 'closed', atC: -20 + (n % 7) },
    },
  ];
  // the first text of a process costs it a while: few of them, so that most kills meet a process at work
  if (n % 12 === 11) {
    const text = n === 23 ? 'there is a burning smell' : `the frost came back after ${n} days`;
    return JSON.stringify({ ...head, from: homeowner, text });
  }
  return JSON.stringify({ ...head, ...said[n % said.length] });
}

interface Row {
  readonly case_id: string;
  readonly version: number;
}

/** What must hold of a file whatever happened to its writers. */
function soundness(db: string, conversation: string, ids: readonly string[]): void {
  const file = new Sqlite(db, { readonly: true });
  expect(file.pragma('integrity_check', { simple: true })).toBe('ok');
  expect(file.pragma('foreign_key_check')).toEqual([]);
  const events = file.prepare<[], Row>('SELECT case_id, version FROM events ORDER BY case_id, version').all();
  const stored = file
    .prepare<[string], string>(
      'SELECT message_id FROM messages m JOIN conversations c ON c.case_id = m.case_id WHERE c.name = ? ORDER BY message_id',
    )
    .pluck()
    .all(conversation);
  const seqs = file
    .prepare<[string], number>(
      'SELECT seq FROM messages m JOIN conversations c ON c.case_id = m.case_id WHERE c.name = ? ORDER BY seq',
    )
    .pluck()
    .all(conversation);
  file.close();
  expect(stored).toEqual([...ids].sort());
  expect(seqs).toEqual(ids.map((_, i) => i + 1));

  const store = openStore(db);
  const caseId = store.caseOf('stdio', conversation) ?? '';
  const versions = events.filter((e) => e.case_id === caseId).map((e) => e.version);
  expect(versions).toEqual(versions.map((_, i) => i + 1));
  const state = store.load(caseId);
  expect(state?.version).toBe(versions.length);
  expect(store.rebuild(caseId)).toEqual(state);
  store.close();
}

/** The answers in the file by the id of their message, before any process could mend it. */
function storedAnswers(db: string): Map<string, string> {
  const file = new Sqlite(db, { readonly: true });
  const rows = file
    .prepare<[], { message_id: string; answer: string }>('SELECT message_id, answer FROM messages')
    .all();
  file.close();
  return new Map(rows.map((r) => [r.message_id, r.answer]));
}

/** Sends lines and collects as many answers as the process gives; null where it ended before. */
async function answersOf(program: Running, lines: readonly string[]): Promise<(string | null)[]> {
  for (const line of lines) program.write(line);
  const out: (string | null)[] = [];
  for (const _ of lines) out.push(await program.next());
  return out;
}

describe('a process killed at any moment', () => {
  it(`loses no answered message in ${KILLS} kills, doubles none, and gives the same answer to a repeated id`, async () => {
    const random = randomFrom(SEED);
    const db = join(newFolder(), 'cases.db');
    const answered = new Map<string, string>();
    let sent = 0;
    let cut = 0;
    for (let kill = 0; kill < KILLS; kill += 1) {
      const program = start(['stdio', '--db', db]);
      // what was answered before the kill is answered alike after it
      const known = [...answered].slice(-3);
      expect(
        await answersOf(
          program,
          known.map(([line]) => line),
        ),
      ).toEqual(known.map(([, bytes]) => bytes));
      // what was sent and not answered is sent again, as a front end would; then more
      const more = 8 + Math.floor(random() * 16);
      const lines = Array.from({ length: more }, (_, i) => message(answered.size + i, 'k1'));
      for (const line of lines) program.write(line);
      sent = Math.max(sent, answered.size + more);
      const goal = Math.floor((random() * more) / 2);
      for (const line of lines.slice(0, goal)) answered.set(line, (await program.next()) ?? 'nothing');
      await wait(random() * 8);
      program.child.kill('SIGKILL');
      // answers that were on their way count: the front end has them
      for (const line of lines.slice(goal)) {
        const late = await program.next();
        if (late === null) break;
        answered.set(line, late);
      }
      const { signal } = await program.ended;
      expect(signal).toBe('SIGKILL');
      if (answered.size < sent) cut += 1;
      const stored = storedAnswers(db);
      for (const [line, bytes] of answered) expect(stored.get((JSON.parse(line) as { id: string }).id)).toBe(bytes);
    }
    expect(cut).toBeGreaterThan(KILLS / 3);

    const program = start(['stdio', '--db', db]);
    const all = Array.from({ length: sent }, (_, n) => message(n, 'k1'));
    const last = await answersOf(program, all);
    program.child.stdin.end();
    expect((await program.ended).code).toBe(0);
    for (const [i, line] of all.entries()) {
      expect(last[i]).toMatch(/^\{"case":"k1"/);
      if (answered.has(line)) expect(last[i]).toBe(answered.get(line));
    }
    expect(answered.size).toBeGreaterThan(KILLS);
    soundness(
      db,
      'k1',
      all.map((_, n) => `m${n}`),
    );
  }, 90_000);
});

describe('two processes on one file', () => {
  it('lose nothing and double nothing, in one case and in two', async () => {
    const db = join(newFolder(), 'cases.db');
    const names = ['a', 'b'] as const;
    const programs = names.map(() => start(['stdio', '--db', db]));
    // both are up before either writes
    for (const program of programs)
      await answersOf(program, [JSON.stringify({ case: 'x', from: homeowner, poll: true })]);
    const ROUNDS = 25;
    const linesOf = (name: string): string[] =>
      Array.from({ length: ROUNDS }, (_, n) => [
        message(n, 'shared', name),
        message(n, `own-${name}`),
        // the same message by both, as after a failover
        ...(n % 5 === 0 ? [message(n, 'shared', 'both')] : []),
      ]).flat();
    const out = await Promise.all(programs.map((program, i) => answersOf(program, linesOf(names[i] ?? ''))));
    for (const program of programs) {
      program.child.stdin.end();
      expect(await program.ended).toMatchObject({ code: 0, err: '' });
    }
    const parsed = out.map((lines) => lines.map((l) => JSON.parse(l ?? 'null') as Answer));
    for (const answers of parsed) expect(answers.filter((a) => !('caseId' in a))).toEqual([]);
    const shared = parsed.flatMap((answers) => answers.filter((a) => a.case === 'shared').map((a) => a.caseId));
    expect(new Set(shared).size).toBe(1);

    const both = names.map((name, i) =>
      linesOf(name).flatMap((line, n) => (line.includes('"id":"both') ? [out[i]?.[n]] : [])),
    );
    expect(both[0]).toHaveLength(ROUNDS / 5);
    expect(both[0]).toEqual(both[1]);

    const range = Array.from({ length: ROUNDS }, (_, n) => n);
    soundness(db, 'shared', [
      ...names.flatMap((name) => range.map((n) => `${name}${n}`)),
      ...range.filter((n) => n % 5 === 0).map((n) => `both${n}`),
    ]);
    for (const name of names)
      soundness(
        db,
        `own-${name}`,
        range.map((n) => `m${n}`),
      );
  }, 90_000);
});
