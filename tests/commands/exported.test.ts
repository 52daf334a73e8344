/** Whoever asks for what is kept of them gets all of it: what the store holds of a case is held against its export. */
import Sqlite from 'better-sqlite3';
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { CaseEvent } from '../../src/case/events.js';
import { fold } from '../../src/case/state.js';
import { caseFiles } from '../../src/commands/case-files.js';
import { exported, exportToRead, type Exported } from '../../src/commands/exported.js';
import { openStore } from '../../src/store/store.js';
import { adviseThaw, desk, knowledge, type Desk } from '../desk/a-desk.js';
import { temporaryFiles } from '../store/temporary.js';

const newFile = temporaryFiles();
const onFile = (): Desk => desk({}, openStore(newFile()));

function exportOf({ store, caseId }: Desk): Exported {
  const all = exported({ store, files: caseFiles(store.path) }, caseId());
  if (!all) throw new Error('no case');
  return all;
}

/** A talk with two people, words, an answer, a reading, a photo, an hour told, an act of each kind at the desk. */
function longStory(): Desk {
  const d = onFile();
  d.says('the "Quimby" freezer hums\nand drips', { by: 'owner-1', id: 'm1' });
  d.says('my time zone is UTC-7', { by: 'owner-1' });
  d.answers('frost.location', 'freezer-back-wall', { by: 'owner-1', id: 'm2' });
  d.says('5.4k at 73F on the sensor', { by: 'tech-2', role: 'technician' });
  d.says('there is a burning smell', { by: 'owner-1' });
  d.later(0.1);
  d.acts({ act: 'claim' }, 'Ana');
  d.acts({ act: 'ask', text: 'Is it rented?' }, 'Ana');
  d.polls({ by: 'owner-1', id: 'p1' });
  d.later(0.1);
  d.says('yes, from my uncle', { by: 'owner-1' });
  const photo: CaseEvent = {
    type: 'photo-kept',
    at: d.now().toISOString(),
    by: 'owner-1',
    ref: 'room-7/pic-9',
    of: null,
  };
  const before = d.store.load(d.caseId());
  if (!before) throw new Error('no case');
  d.store.happen({
    caseId: d.caseId(),
    from: before.version,
    at: photo.at,
    events: [photo],
    state: fold(before, [photo]),
    status: 'escalated',
    dueAt: null,
    renewed: {},
  });
  d.acts({ act: 'clear', hazard: 'burning-smell' }, 'Ana');
  d.acts({ act: 'close', cause: 'not-found', fixed: 'a new plug', parts: 'plug 3b' }, 'Ana');
  const pages = join(dirname(d.store.path), 'pages');
  mkdirSync(pages, { recursive: true });
  writeFileSync(join(pages, `${d.caseId()}.md`), 'the page');
  return d;
}

/** Every single text and number in a value, JSON within text taken apart. */
function leaves(value: unknown): string[] {
  if (value === null) return [];
  if (typeof value === 'string' && /^[[{]/.test(value)) return leaves(JSON.parse(value));
  if (typeof value === 'object') return Object.values(value).flatMap(leaves);
  return [typeof value === 'string' ? value : JSON.stringify(value)];
}

describe('the export of a case', () => {
  it('as data holds every value that the store holds of it, in every table', () => {
    const d = longStory();
    const all = new Set(leaves(JSON.parse(JSON.stringify(exportOf(d)))));
    // how the store is built, and nothing about anybody
    const own = new Set(['shape', 'news', 'seq', 'version', 'kind']);
    const db = new Sqlite(d.store.path, { readonly: true });
    const tables = db.prepare<[], string>("SELECT name FROM sqlite_master WHERE type = 'table'").pluck().all();
    let seen = 0;
    for (const table of tables) {
      // who works at the desk and which process runs belong to no case
      if (table === 'names' || table === 'leases') continue;
      const key = (db.pragma(`table_info(${table})`) as { name: string }[]).some((c) => c.name === 'case_id')
        ? 'case_id = ?'
        : table === 'rooms'
          ? 'conversation IN (SELECT name FROM conversations WHERE case_id = ?)'
          : 'id = ?';
      const rows = db.prepare<[string], Record<string, unknown>>(`SELECT * FROM ${table} WHERE ${key}`).all(d.caseId());
      for (const row of rows)
        for (const [column, value] of Object.entries(row).filter(([c]) => !own.has(c)))
          for (const leaf of leaves(value)) {
            seen += 1;
            expect(all.has(leaf), `${table}.${column}: ${leaf}`).toBe(true);
          }
    }
    db.close();
    expect(seen).toBeGreaterThan(200);
  });

  it('to read has the words, answers, acts of the desk, facts, readings, photos, hour, people and files', () => {
    const d = longStory();
    const text = exportToRead(knowledge, exportOf(d));
    for (const part of [
      '> the "Quimby" freezer hums\n> and drips',
      'owner-1 (homeowner)',
      'tech-2 (technician)',
      'Ana claimed it',
      'Ana asked: Is it rented?',
      '> yes, from my uncle',
      'Ana closed it: not-found; a new plug; plug 3b',
      'room-7/pic-9',
      'UTC-07:00',
      '5.4 kohm at 73 F',
      'test: kitchen',
      `${d.caseId()}.md`,
    ])
      expect(text).toContain(part);
    const at = (part: string): number => text.indexOf(part);
    expect(at('Quimby')).toBeLessThan(at('Ana claimed'));
    expect(at('Ana claimed')).toBeLessThan(at('> yes, from my uncle'));
    for (const { answer } of d.store.messages(d.caseId())) if (answer) expect(text).toContain(answer.reply);
  });

  it('tells what the case asked by itself', () => {
    const d = onFile();
    adviseThaw(d);
    d.later(30);
    d.polls();
    expect(exportToRead(knowledge, exportOf(d))).toMatch(/asked by itself: \S/);
  });

  it('is of no case that is not there, and of one that was erased tells only what was found', () => {
    const d = longStory();
    expect(exported({ store: d.store, files: caseFiles(d.store.path) }, 'NONE2222')).toBeNull();
    const caseId = d.caseId();
    const files = caseFiles(d.store.path);
    const outside = { person: null, caseIds: [caseId], forget: files.forget };
    d.store.erase({ ...outside, after: (_, state) => ({ events: [], state, dueAt: null, renewed: {} }) });
    const after = exported({ store: d.store, files }, caseId);
    if (!after) throw new Error('the outcome is gone');
    const text = exportToRead(knowledge, after) + JSON.stringify(after);
    for (const gone of ['Quimby', 'owner-1', 'tech-2', 'Ana', 'uncle', 'plug', 'pic-9', 'kitchen', '.md'])
      expect(text).not.toContain(gone);
    expect(text).toContain('freezer-back-wall');
  });
});
