/** A store full of open cases, each with its question posted in a room of its own: one is talked, the others are copies. */
import type { Database } from 'better-sqlite3';
import { Conversations } from '../../src/conversation.js';
import { idOf } from '../../src/channels/discord/ids.js';
import type { Knowledge } from '../../src/knowledge/facts.js';
import { openFile } from '../../src/store/open.js';
import { openStore } from '../../src/store/store.js';
import { around } from '../support/around.js';

export interface Place {
  readonly guild: string;
  readonly parent: string;
  readonly thread: string;
  readonly owner: string;
  /** the last message there */
  readonly seen: string;
}

const CHANNEL = 'discord';
const FIRST = 'the-first';
const ALPHABET = '23456789ABCDEFGHJKMNPQRSTVWXYZ';

const code = (n: number): string =>
  Array.from({ length: 8 }, (_, i) => ALPHABET[Math.floor(n / ALPHABET.length ** i) % ALPHABET.length]).join('');
const post = (n: number): string => `question-${n}`;

/** The button "not sure" of each place's question, in their order. */
export function fillStore(knowledge: Knowledge, path: string, places: readonly Place[]): string[] {
  const store = openStore(path);
  const handled = new Conversations(knowledge, store, around(CHANNEL)).handle({
    conversation: FIRST,
    from: { id: FIRST, role: 'homeowner' },
    id: FIRST,
    at: null,
    said: { kind: 'text', text: 'frost on the back wall of the freezer' },
  });
  if (!handled.ok || !handled.answer.ask) throw new Error('the first case asks nothing');
  const { finding, reading, text, choices } = handled.answer.ask;
  const ask = JSON.stringify({ finding, reading, text, choices, many: false });
  const { caseId } = handled.answer;
  store.close();
  const db = openFile(path);
  const copy = copier(db, caseId);
  db.transaction(() => {
    places.forEach((place, n) => {
      copy(code(n), place.owner);
      db.prepare('INSERT INTO conversations (channel, name, case_id) VALUES (?, ?, ?)').run(
        CHANNEL,
        place.thread,
        code(n),
      );
      db.prepare(
        'INSERT INTO rooms (conversation, place, guild, parent, owner, person, role, seen, opened_at) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)',
      ).run(
        place.thread,
        place.thread,
        place.guild,
        place.parent,
        place.owner,
        place.owner,
        'homeowner',
        place.seen,
        new Date().toISOString(),
      );
      const at = new Date().toISOString();
      db.prepare(
        'INSERT INTO outbox (id, case_id, channel, kind, created_at, delivered_at, room, ask, seq, message) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)',
      ).run(post(n), code(n), CHANNEL, 'answer', at, at, place.thread, ask, n + 1, place.seen);
    });
  })();
  db.close();
  const index = choices.findIndex((c) => c.value === 'not-sure');
  return places.map((_, n) => idOf({ does: 'choose', post: post(n), index }));
}

/** Every row of the first case again, under another code and another person. */
function copier(db: Database, first: string): (caseId: string, person: string) => void {
  const statements = (['cases', 'messages', 'events', 'readers'] as const).map((table) => {
    const key = table === 'cases' ? 'id' : 'case_id';
    const columns = (db.pragma(`table_info(${table})`) as { name: string; type: string }[]).map(({ name, type }) =>
      name === key
        ? { name, as: '@caseId' }
        : { name, as: type === 'TEXT' ? `replace(${name}, @first, @person)` : name },
    );
    const names = columns.map((c) => c.name).join(', ');
    const values = columns.map((c) => c.as).join(', ');
    return db.prepare(`INSERT INTO ${table} (${names}) SELECT ${values} FROM ${table} WHERE ${key} = @from`);
  });
  return (caseId, person) => {
    for (const statement of statements) statement.run({ caseId, person, first: FIRST, from: first });
  };
}
