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

  const anyLeft = (caseId: string): boolean => sql.somebody.get(caseId) !== undefined;

  function blank(caseId: string, person: string | null): Terms | null {
    const words = sql.words.all({ caseId, person }).flatMap((row) => Object.values(JSON.parse(row) as object));
    sql.blankMessages.run({ caseId, person });
    for (const [type, data] of Object.entries(WHEN_ERASED))
      sql.blankData.run({ caseId, person, type, data: JSON.stringify(data) });
    sql.blankEvents.run({ caseId, person });
    sql.dropReaders.run({ caseId, person });
    sql.dropRooms.run({ caseId, person });
    if (person !== null) sql.dropName.run(person);
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
    for (const { id, body } of sql.outbox.all(caseId)) sql.setBody.run(redacted(body, terms), id);
    for (const { channel, name } of sql.conversations.all(caseId))
      if (terms.name.test(name)) sql.dropConversation.run(channel, name);
  }

  function empty(caseId: string): void {
    sql.emptyMessages.run(caseId);
    sql.emptyWords.run(caseId);
    sql.emptyOutbox.run(caseId);
    sql.dropRooms.run({ caseId, person: null });
    sql.emptyConversations.run(caseId);
    sql.emptyReaders.run(caseId);
  }

  const erase = db.transaction(({ person, caseIds, forget, after }: Erasure): void => {
    for (const caseId of caseIds) {
      const terms = blank(caseId, person);
      const alone = !anyLeft(caseId);
      if (alone) {
        empty(caseId);
        forget(caseId);
      } else if (terms) redact(caseId, terms);
      const state = rebuild(caseId);
      if (!state) continue;
      const aftermath = after(caseId, state, alone);
      write(caseId, aftermath);
      if (sql.named.get(caseId) === undefined) sql.markErased.run(aftermath.state.lastAt, caseId);
    }
  });

  return {
    casesOf: (person: string): string[] => sql.casesOf.all({ person }),
    closedBefore: (moment: string): string[] => sql.closedBefore.all(moment),
    erase: (erasure: Erasure): void => erase.immediate(erasure),
  };
}

interface Whose {
  readonly caseId: string;
  readonly person: string | null;
}

const THEIRS = 'case_id = :caseId AND (:person IS NULL OR person = :person)';

function statements(db: Database) {
  return {
    casesOf: db
      .prepare<{ person: string }, string>(
        `SELECT case_id FROM messages WHERE person = :person UNION SELECT case_id FROM events WHERE person = :person
         UNION SELECT case_id FROM readers WHERE person = :person ORDER BY case_id`,
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
    dropRooms: db.prepare<Whose>(
      `DELETE FROM rooms WHERE conversation IN (SELECT name FROM conversations WHERE case_id = :caseId)
       AND (:person IS NULL OR person = :person)`,
    ),
    dropName: db.prepare<[string]>('DELETE FROM names WHERE name = ?'),
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
    outbox: db.prepare<[string], { id: string; body: string | null }>('SELECT id, body FROM outbox WHERE case_id = ?'),
    setBody: db.prepare('UPDATE outbox SET body = ? WHERE id = ?'),
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
