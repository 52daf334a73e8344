/**
 * People out of cases. What a person wrote and what was said back to them is blanked, and where others name them or
 * repeat their words a mark stands instead; what was found stays, without anybody. Where nobody who wrote in the case is
 * left, everything said and written in it goes. One transaction: a person is gone from every case or from none.
 */
import type { Database } from 'better-sqlite3';
import { WHEN_ERASED, type CaseEvent } from '../case/events.js';
import type { CaseState } from '../case/state.js';
import { redacted, termsOf, type Terms } from './redact.js';

export interface Erasure {
  /** null: everybody */
  readonly person: string | null;
  readonly caseIds: readonly string[];
  /** called within the transaction, for each case that nobody is left in: its files go first */
  readonly forget: (caseId: string) => void;
  /** what the case becomes: its state without the person, more events, and the pages as they are now */
  readonly after: (caseId: string, state: CaseState, alone: boolean) => Aftermath;
}

export interface Aftermath {
  readonly events: readonly CaseEvent[];
  readonly state: CaseState;
  readonly dueAt: string | null;
  /** bodies of items of the outbox, by their ids */
  readonly renewed: Readonly<Record<string, string>>;
}

/** What the store hands in: how it folds a case anew and writes it. */
export interface Folding {
  readonly rebuild: (caseId: string) => CaseState | null;
  readonly write: (caseId: string, aftermath: Aftermath) => void;
}

export function erasing(db: Database, { rebuild, write }: Folding) {
  const sql = statements(db);

  /** On a chat server a technician has an id there and a name at the desk: who is named by one is known by the other. */
  const alsoKnownAs = (person: string): string[] => [
    ...new Set([person, ...sql.names.all({ person }).flatMap(({ id, name }) => [id, name])]),
  ];

  const anyLeft = (caseId: string): boolean => sql.somebody.get(caseId) !== undefined;

  function blank(caseId: string, person: string | null): Terms | null {
    const words = sql.words.all({ caseId, person }).flatMap((row) => Object.values(JSON.parse(row) as object));
    sql.blankMessages.run({ caseId, person });
    for (const [type, data] of Object.entries(WHEN_ERASED))
      sql.blankData.run({ caseId, person, type, data: JSON.stringify(data) });
    sql.blankEvents.run({ caseId, person });
    sql.dropReaders.run({ caseId, person });
    return person === null
      ? null
      : termsOf(
          person,
          words.filter((w) => typeof w === 'string'),
        );
  }

  /** What others wrote and were told stays, but for the name and the words of the one who leaves. */
  function redact(caseId: string, terms: Terms): void {
    for (const { seq, said, answer } of sql.messages.all(caseId))
      sql.setMessage.run(redacted(said, terms), redacted(answer, terms), caseId, seq);
    for (const { version, words } of sql.wordsLeft.all(caseId))
      sql.setWords.run(redacted(words, terms), caseId, version);
    for (const { id, body, ask, failed } of sql.outbox.all(caseId))
      sql.setOutbox.run(redacted(body, terms), redacted(ask, terms), redacted(failed, terms), id);
    for (const { channel, name } of sql.conversations.all(caseId)) if (terms.name.test(name)) dropTalk(channel, name);
  }

  function dropTalk(channel: string, name: string): void {
    sql.dropPosts.run(channel, name);
    if (channel === ROOMS) sql.dropRoom.run(name);
    sql.dropConversation.run(channel, name);
  }

  function empty(caseId: string): void {
    sql.emptyMessages.run(caseId);
    sql.emptyWords.run(caseId);
    sql.emptyOutbox.run(caseId);
    sql.emptyRooms.run(caseId);
    sql.emptyConversations.run(caseId);
    sql.emptyReaders.run(caseId);
  }

  const erase = db.transaction(({ person, caseIds, forget, after }: Erasure): void => {
    const theirs = person === null ? [null] : alsoKnownAs(person);
    for (const id of theirs) {
      if (id === null) continue;
      for (const { channel, name } of sql.talksOf.all({ person: id })) dropTalk(channel, name);
      sql.dropName.run({ person: id });
      sql.dropTaps.run({ person: id });
    }
    for (const caseId of caseIds) {
      const terms = theirs.map((id) => blank(caseId, id));
      const alone = !anyLeft(caseId);
      if (alone) {
        empty(caseId);
        forget(caseId);
      } else for (const t of terms) if (t) redact(caseId, t);
      const state = rebuild(caseId);
      if (!state) continue;
      const aftermath = after(caseId, state, alone);
      write(caseId, aftermath);
      if (sql.named.get(caseId) === undefined) sql.markErased.run(aftermath.state.lastAt, caseId);
    }
  });

  return {
    casesOf: (person: string): string[] => [
      ...new Set(alsoKnownAs(person).flatMap((id) => sql.casesOf.all({ person: id }))),
    ],
    closedBefore: (moment: string): string[] => sql.closedBefore.all(moment),
    erase: (erasure: Erasure): void => erase.immediate(erasure),
  };
}

interface Whose {
  readonly caseId: string;
  readonly person: string | null;
}

/** the channel whose conversations have rooms */
const ROOMS = 'discord';
const THEIRS = 'case_id = :caseId AND (:person IS NULL OR person = :person)';

function statements(db: Database) {
  return {
    casesOf: db
      .prepare<{ person: string }, string>(
        `SELECT case_id FROM messages WHERE person = :person UNION SELECT case_id FROM events WHERE person = :person
         UNION SELECT case_id FROM readers WHERE person = :person
         UNION SELECT c.case_id FROM conversations c JOIN rooms r ON c.channel = '${ROOMS}' AND c.name = r.conversation
           WHERE r.owner = :person OR r.person = :person ORDER BY case_id`,
      )
      .pluck(),
    closedBefore: db
      .prepare<[string], string>(
        "SELECT id FROM cases WHERE status = 'closed' AND erased_at IS NULL AND julianday(updated_at) < julianday(?)",
      )
      .pluck(),
    words: db.prepare<Whose, string>(`SELECT words FROM events WHERE ${THEIRS} AND words IS NOT NULL`).pluck(),
    blankMessages: db.prepare<Whose>(
      `UPDATE messages SET message_id = NULL, person = NULL, said = NULL, answer = NULL WHERE ${THEIRS}`,
    ),
    blankData: db.prepare<Whose & { type: string; data: string }>(
      `UPDATE events SET data = :data WHERE ${THEIRS} AND type = :type`,
    ),
    blankEvents: db.prepare<Whose>(`UPDATE events SET person = NULL, words = NULL WHERE ${THEIRS}`),
    dropReaders: db.prepare<Whose>(`DELETE FROM readers WHERE ${THEIRS}`),
    somebody: db.prepare<[string]>('SELECT 1 FROM messages WHERE case_id = ? AND person IS NOT NULL LIMIT 1'),
    named: db.prepare<[string]>('SELECT 1 FROM events WHERE case_id = ? AND person IS NOT NULL LIMIT 1'),
    messages: db.prepare<[string], { seq: number; said: string | null; answer: string | null }>(
      'SELECT seq, said, answer FROM messages WHERE case_id = ? AND person IS NOT NULL',
    ),
    setMessage: db.prepare('UPDATE messages SET said = ?, answer = ? WHERE case_id = ? AND seq = ?'),
    wordsLeft: db.prepare<[string], { version: number; words: string }>(
      'SELECT version, words FROM events WHERE case_id = ? AND words IS NOT NULL',
    ),
    setWords: db.prepare('UPDATE events SET words = ? WHERE case_id = ? AND version = ?'),
    outbox: db.prepare<[string], { id: string; body: string | null; ask: string | null; failed: string | null }>(
      'SELECT id, body, ask, failed FROM outbox WHERE case_id = ?',
    ),
    setOutbox: db.prepare('UPDATE outbox SET body = ?, ask = ?, failed = ? WHERE id = ?'),
    names: db.prepare<{ person: string }, { id: string; name: string }>(
      'SELECT id, name FROM names WHERE id = :person OR name = :person',
    ),
    dropName: db.prepare<{ person: string }>('DELETE FROM names WHERE id = :person OR name = :person'),
    dropTaps: db.prepare<{ person: string }>('DELETE FROM inbox WHERE person = :person'),
    talksOf: db.prepare<{ person: string }, { channel: string; name: string }>(
      `SELECT '${ROOMS}' AS channel, conversation AS name FROM rooms WHERE owner = :person OR person = :person`,
    ),
    dropRoom: db.prepare<[string]>('DELETE FROM rooms WHERE conversation = ?'),
    dropPosts: db.prepare<[string, string]>('DELETE FROM outbox WHERE channel = ? AND room = ?'),
    emptyRooms: db.prepare<[string]>(
      `DELETE FROM rooms WHERE conversation IN (SELECT name FROM conversations WHERE channel = '${ROOMS}' AND case_id = ?)`,
    ),
    conversations: db.prepare<[string], { channel: string; name: string }>(
      'SELECT channel, name FROM conversations WHERE case_id = ?',
    ),
    dropConversation: db.prepare('DELETE FROM conversations WHERE channel = ? AND name = ?'),
    emptyMessages: db.prepare('UPDATE messages SET message_id = NULL, said = NULL, answer = NULL WHERE case_id = ?'),
    emptyWords: db.prepare('UPDATE events SET words = NULL WHERE case_id = ?'),
    emptyOutbox: db.prepare('DELETE FROM outbox WHERE case_id = ?'),
    emptyConversations: db.prepare('DELETE FROM conversations WHERE case_id = ?'),
    emptyReaders: db.prepare('DELETE FROM readers WHERE case_id = ?'),
    markErased: db.prepare('UPDATE cases SET erased_at = ? WHERE id = ?'),
  };
}
