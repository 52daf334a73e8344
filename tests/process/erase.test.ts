/** `thawline erase PERSON` and the retention setting, with the pages and pictures beside the store, on real processes. */
import Sqlite from 'better-sqlite3';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Answer } from '../../src/message/outgoing.js';
import { jsonLines, newFolder, outLines, run, start, type Ended } from './program.js';

const OWNER = 'owner-4711';
const from = { id: OWNER, role: 'homeowner' };
const WORDS = [
  'Zacharias of 12 Quimby Lane: it smells burning',
  'the "blue" door\nring twice',
  'swapped the humming fan',
];

const command = (db: string, ...args: readonly string[]): Promise<Ended> => run([...args, '--db', db]);

/** A case that was handed over and closed at the desk. The last message stands at this time. */
async function story(db: string, at: string | null = null): Promise<string> {
  const time = at === null ? {} : { at };
  const said = await run(
    ['stdio', '--db', db],
    jsonLines(WORDS.slice(0, 2).map((text) => ({ case: 'k1', from, text, ...time }))),
  );
  const caseId = (JSON.parse(outLines(said.out)[0] ?? 'null') as Answer).caseId;
  for (const args of [
    ['claim', caseId],
    ['clear', caseId, 'burning-smell'],
    ['close', caseId, '--cause', 'evaporator-fan-failed', '--fixed', WORDS[2] ?? ''],
  ])
    expect(await command(db, 'desk', ...args, '--as', 'Ana')).toMatchObject({ code: 0, err: '' });
  return caseId;
}

/** Which of these texts stand in any file of the folder, as they are or as JSON writes them. */
function foundIn(folder: string, texts: readonly string[]): string[] {
  const files = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((f) => f.isFile())
    .map((f) => readFileSync(join(f.parentPath, f.name)));
  return texts.filter((t) => files.some((f) => f.includes(t) || f.includes(JSON.stringify(t).slice(1, -1))));
}

describe.concurrent('erase', () => {
  it('leaves nothing of a person in any file, while another process works, and says so; the report stays', async () => {
    const db = join(newFolder(), 'cases.db');
    const caseId = await story(db);
    const pages = join(dirname(db), 'pages');
    expect(readdirSync(pages).sort()).toEqual([`${caseId}.html`, `${caseId}.md`]);
    // another talk goes on in a process of its own
    const other = start(['stdio', '--db', db]);
    const say = async (): Promise<unknown> => {
      const answer = { finding: 'frost.location', value: 'freezer-floor' };
      other.write(JSON.stringify({ case: 'k2', from: { id: 'else-1', role: 'homeowner' }, answer }));
      return JSON.parse((await other.next()) ?? 'null') as unknown;
    };
    expect(await say()).toMatchObject({ case: 'k2' });
    const before = (await command(db, 'report', '--json')).out;
    expect(foundIn(dirname(db), [OWNER, ...WORDS])).toEqual([OWNER, ...WORDS]);

    const { code, out, err } = await command(db, 'erase', OWNER);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(outLines(out)).toEqual([
      expect.stringContaining('1 case'),
      expect.stringContaining(`"${OWNER}" stands there no more`),
      expect.stringContaining('Backups made before'),
    ]);
    expect(foundIn(dirname(db), [OWNER, ...WORDS])).toEqual([]);
    expect(readdirSync(pages)).toEqual([]);
    expect((await command(db, 'report', '--json')).out).toBe(before);
    expect(await say()).toMatchObject({ case: 'k2' });
    other.child.stdin.end();
    expect(await other.ended).toMatchObject({ code: 0, err: '' });
    expect(foundIn(dirname(db), [OWNER, ...WORDS])).toEqual([]);
  });

  it('deletes the pictures that were drawn for the person', async () => {
    const db = join(newFolder(), 'cases.db');
    const said = await run(['chat', '--db', db], 'frost on the back wall\npicture\n');
    expect(said.code).toBe(0);
    const pictures = join(dirname(db), 'pictures');
    expect(readdirSync(pictures)).toHaveLength(1);
    expect((await command(db, 'erase', 'terminal')).code).toBe(0);
    expect(readdirSync(pictures)).toEqual([]);
    expect(foundIn(dirname(db), ['terminal', 'frost on the back wall'])).toEqual([]);
  });

  it('tells when another program still reads what was erased, and when others wrote the name elsewhere', async () => {
    const db = join(newFolder(), 'cases.db');
    await story(db);
    const else1 = { id: 'else-1', role: 'homeowner' };
    await run(['stdio', '--db', db], jsonLines([{ case: 'k2', from: else1, text: `${OWNER} has one too` }]));
    const reader = new Sqlite(db, { readonly: true });
    reader.exec('BEGIN; SELECT * FROM messages');
    const { code, out, err } = await command(db, 'erase', OWNER);
    expect({ code, lines: outLines(err).length }).toEqual({ code: 1, lines: 1 });
    expect(err).toContain('another program is reading');
    expect(out).toContain('still stands');
    reader.exec('COMMIT');
    reader.close();
    // the last one to end takes the log away
    await command(db, 'report');
    expect(foundIn(dirname(db), WORDS)).toEqual([]);
    expect(foundIn(dirname(db), [`${OWNER} has one too`])).toHaveLength(1);
  }, 60_000);

  it('of nobody known, of nobody named, or without a store is one line, and makes no file', async () => {
    const db = join(newFolder(), 'cases.db');
    expect(await command(db, 'erase', OWNER)).toMatchObject({ code: 1, out: '', err: expect.stringContaining(db) });
    expect(existsSync(db)).toBe(false);
    await run(['stdio', '--db', db], jsonLines([{ case: 'k1', from, text: 'frost' }]));
    const before = statSync(db).mtimeMs;
    expect(await command(db, 'erase', 'owner')).toMatchObject({ code: 2, out: '' });
    expect(await command(db, 'erase')).toMatchObject({ code: 2, out: '' });
    expect(statSync(db).mtimeMs).toBe(before);
  });
});

describe.concurrent('THAWLINE_KEEP_DAYS', () => {
  const days = (n: number): string => new Date(Date.now() - n * 86_400_000).toISOString();

  it.each([['stdio'], ['chat']])('empties what was closed longer ago, at the start of %s', async (word) => {
    const db = join(newFolder(), 'cases.db');
    const lines = [
      { case: 'k1', from, text: WORDS[0]?.replace('it smells burning', 'the freezer is full of frost') },
      { case: 'k1', from, text: 'it is fixed now, thank you' },
      { case: 'k1', from, answer: { finding: 'repair.result', value: 'fixed' } },
    ].map((l) => ({ ...l, at: days(20) }));
    const out = await run(['stdio', '--db', db], jsonLines(lines));
    expect(JSON.parse(outLines(out.out).at(-1) ?? 'null')).toMatchObject({ status: 'closed' });
    const begin = (env: Record<string, string>): Promise<Ended> => run([word, '--db', db], '', { env });
    for (const env of [{}, { THAWLINE_KEEP_DAYS: '21' }]) {
      expect((await begin(env)).code).toBe(0);
      expect(foundIn(dirname(db), [OWNER, 'Zacharias'])).toEqual([OWNER, 'Zacharias']);
    }
    const before = (await command(db, 'report', '--json')).out;
    expect((await begin({ THAWLINE_KEEP_DAYS: '19' })).code).toBe(0);
    expect(foundIn(dirname(db), [OWNER, 'Zacharias'])).toEqual([]);
    expect((await command(db, 'report', '--json')).out).toBe(before);
  });
});
