/** What is left when two processes write to one file at once. Killed ones: torture.test.ts. */
import Sqlite from 'better-sqlite3';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Answer } from '../../src/message/outgoing.js';
import { openStore } from '../../src/store/store.js';
import { newFolder, start, type Running } from './program.js';

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

/** Sends lines and collects as many answers as the process gives; null where it ended before. */
async function answersOf(program: Running, lines: readonly string[]): Promise<(string | null)[]> {
  for (const line of lines) program.write(line);
  const out: (string | null)[] = [];
  for (const _ of lines) out.push(await program.next());
  return out;
}

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
