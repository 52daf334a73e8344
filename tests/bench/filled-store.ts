/**
 * A store in which many have talked before: a few real talks, copied row by row under other names in one transaction, so
 * that every row has the size and shape that the program itself gave it.
 */
import { randomInt } from 'node:crypto';
import { rmSync } from 'node:fs';
import type { Database } from 'better-sqlite3';
import { Conversations } from '../../src/conversation.js';
import type { Knowledge } from '../../src/knowledge/facts.js';
import type { Said } from '../../src/message/incoming.js';
import { openFile } from '../../src/store/open.js';
import { openStore } from '../../src/store/store.js';
import { around } from '../support/around.js';
import { messagesOf } from './talks.js';

/** `over`: 12 messages each, nine cases in ten closed, one handed over. `open`: 3 messages each, none closed. */
export type Kind = 'over' | 'open';
export const MESSAGES: Readonly<Record<Kind, number>> = { over: 12, open: 3 };
const TEMPLATES = 10;
const LETTERS = '23456789ABCDEFGHJKMNPQRSTVWXYZ';

/** @param channel whose conversations they are */
export function fillStore(knowledge: Knowledge, path: string, cases: number, kind: Kind, channel: string): void {
  const templates = `${path}.templates`;
  talkThem(knowledge, templates, kind, channel);
  const db = openFile(path);
  // nothing is kept for a way back: a fill that fails is begun anew
  db.pragma('journal_mode = OFF');
  db.pragma('synchronous = OFF');
  db.prepare('ATTACH ? AS t').run(templates);
  const ids = db.prepare<[], string>('SELECT id FROM t.cases').pluck().all();
  const copy = copier(db);
  db.transaction(() => codes(cases).forEach((code, i) => copy(ids[i % ids.length] ?? '', code, i)))();
  db.exec('DETACH t');
  db.close();
  rmSync(templates);
}

function talkThem(knowledge: Knowledge, path: string, kind: Kind, channel: string): void {
  const store = openStore(path);
  const handsOver = { ...around(channel), pagePath: (caseId: string) => `${caseId}.html` };
  const conversations = new Conversations(knowledge, store, handsOver);
  const from = { id: 'u1', role: 'homeowner' } as const;
  const text = (words: string) => ({ role: from.role, said: { kind: 'text', text: words } satisfies Said });
  for (let n = 0; n < TEMPLATES; n += 1) {
    const ending = n === 0 ? ['a person please', 'thank you'] : ['not sure', 'it is fixed now'];
    const all = [...messagesOf(n), ...ending.map(text)];
    (kind === 'over' ? all : all.slice(0, MESSAGES.open)).forEach(({ said, role }, i) => {
      const handled = conversations.handle({
        conversation: `t${n}`,
        from: { ...from, role },
        id: `m${i}`,
        at: null,
        said,
      });
      if (!handled.ok) throw new Error(handled.error.message);
    });
  }
  store.close();
}

/** Take-up codes like the program's own, in order, since a file is filled faster so. */
function codes(n: number): string[] {
  const out = new Set<string>();
  while (out.size < n) out.add(Array.from({ length: 8 }, () => LETTERS[randomInt(LETTERS.length)]).join(''));
  return [...out].sort();
}

/** Copies one case with all its rows. Columns are read from the schema, so that a later migration needs nothing here. */
function copier(db: Database): (id: string, code: string, n: number) => void {
  const columns = (table: string): string[] =>
    db.prepare<[string], string>('SELECT name FROM pragma_table_info(?)').pluck().all(table);
  const statement = (table: string, other: Readonly<Record<string, string>>) => {
    const all = columns(table);
    const values = all.map((c) => other[c] ?? c);
    const of = table === 'cases' ? 'id' : 'case_id';
    return db.prepare(
      `INSERT INTO main.${table} (${all.join(', ')}) SELECT ${values.join(', ')} FROM t.${table} WHERE ${of} = :id`,
    );
  };
  const person = "CASE WHEN person IS NULL THEN NULL ELSE printf('u%07d', :n) END";
  const statements = [
    statement('cases', { id: ':code' }),
    statement('conversations', { case_id: ':code', name: "printf('k%07d', :n)" }),
    statement('messages', { case_id: ':code', person }),
    statement('events', { case_id: ':code', person }),
    statement('readers', { case_id: ':code', person }),
    statement('outbox', { case_id: ':code', id: 'replace(id, case_id, :code)', delivered_at: 'created_at' }),
  ];
  return (id, code, n) => {
    for (const each of statements) each.run({ id, code, n });
  };
}
