/**
 * Whole talks against a store on disk, each message timed twice: its stops alone, as pure functions on the same case
 * and message, and then the message through the conversation, as a channel sends it. Between any two messages one bare
 * durable insert is made into another file of the same kind, so that both meet the same disk in the same moments.
 */
import { join } from 'node:path';
import { fold, newCase } from '../../src/case/state.js';
import { Conversations } from '../../src/conversation.js';
import { wordsFor, type Knowledge } from '../../src/knowledge/facts.js';
import type { Incoming, Said } from '../../src/message/incoming.js';
import { listen } from '../../src/safety/listen.js';
import { openFile } from '../../src/store/open.js';
import { openStore, type Store } from '../../src/store/store.js';
import { decide } from '../../src/turn/decide.js';
import { hear } from '../../src/turn/hear.js';
import { think } from '../../src/turn/think.js';
import { understand } from '../../src/understand/understand.js';
import { timed } from './samples.js';
import { around } from '../support/around.js';

/** Twenty words each. */
export const TEXTS = [
  'There is thick frost on the back wall of my freezer and the ice cream has been soft for days',
  'Water keeps showing under the crisper drawers and there is a sheet of ice on the floor of the freezer',
  'I unplugged it for two days last month and it was fine but the frost is back on the wall',
  'The fan in the freezer makes scraping noise and the fridge part is too warm to keep the milk cold',
  'We left the door open overnight after the party and now there is snow all over the packages in there',
  'The rubber seal around the door is torn near the bottom hinge and a dollar bill slips right out there',
  'The compressor never stops running now and it is a side by side with an ice dispenser in the door',
];

const answer = (finding: string, value: string | string[]): Said => ({ kind: 'answer', finding, value });
const reading = (part: string, value: number, unit: 'kohm' | 'ohm', atC: number): Said => ({
  kind: 'reading',
  reading: { part, quantity: 'resistance', value, unit, atC },
});

/** What one caller says, text first; every text is another, so that talks differ. */
export function messagesOf(talk: number): { said: Said; role: Incoming['from']['role'] }[] {
  const text = (n: number): Said => ({ kind: 'text', text: TEXTS[(talk + n) % TEXTS.length] ?? '' });
  return [
    { said: text(0), role: 'homeowner' },
    { said: answer('frost.kind', 'hard-white'), role: 'homeowner' },
    { said: text(1), role: 'homeowner' },
    { said: answer('unit.layout', 'top-freezer'), role: 'homeowner' },
    { said: answer('frost.location', ['freezer-back-wall', 'freezer-floor']), role: 'technician' },
    { said: reading('defrost-sensor', 5.4, 'kohm', 22.8), role: 'technician' },
    { said: text(2), role: 'technician' },
    { said: answer('drain.condition', 'not-sure'), role: 'technician' },
    { said: reading('defrost-heater', 24, 'ohm', 20), role: 'technician' },
    { said: text(3), role: 'homeowner' },
  ];
}

/** Times in milliseconds, one a message or an insert. */
export interface TalkTimes {
  readonly insert: number[];
  /** answers and readings: the message less hearing, believing and planning */
  readonly bare: number[];
  /** the same of messages in words */
  readonly bareText: number[];
  /** 20 words, whole, as a channel waits for it */
  readonly text: number[];
  /** an answer or a reading, whole */
  readonly tap: number[];
  /** danger heard in 20 words and their meaning understood */
  readonly understanding: number[];
  /** readings judged, causes believed, the next step chosen */
  readonly planning: number[];
  /** the part of a turn that is spent in the store, commit included */
  readonly store: number[];
}

export function timeTalks(knowledge: Knowledge, folder: string, talks: number, warmUp: number): TalkTimes {
  const talker = openTalker(knowledge, join(folder, 'talks.db'), join(folder, 'insert.db'));
  for (let talk = 0; talk < talks + warmUp; talk += 1) talker.talk(talk, talk >= warmUp);
  talker.close();
  return talker.times;
}

export interface Talker {
  /** one talk of ten messages; its times are kept or not */
  readonly talk: (n: number, keep: boolean) => void;
  readonly times: TalkTimes;
  readonly close: () => void;
}

/** @param path the store that is talked to; @param beside where the bare inserts go */
export function openTalker(knowledge: Knowledge, path: string, beside: string): Talker {
  const times: TalkTimes = {
    insert: [],
    bare: [],
    bareText: [],
    text: [],
    tap: [],
    understanding: [],
    planning: [],
    store: [],
  };
  const inner = openStore(path);
  let inStore = 0;
  const store = watched(inner, (ms) => (inStore += ms));
  const conversations = new Conversations(knowledge, store, around('bench'));
  const insert = bareInsert(beside);
  const talk = (number: number, keep: boolean): void =>
    messagesOf(number).forEach(({ said, role }, n) => {
      const incoming: Incoming = { conversation: `c${number}`, from: { id: 'u1', role }, id: `m${n}`, at: null, said };
      const caseId = inner.caseOf('bench', incoming.conversation);
      const at = new Date().toISOString();
      const before = (caseId === null ? null : inner.load(caseId)) ?? newCase(at, role);

      const listening =
        said.kind === 'text'
          ? timed(() => [listen(knowledge, said.text, role), understand(knowledge, before, role, said.text)]).ms
          : 0;
      const heard = timed(() => hear(knowledge, before, incoming, at));
      const told = fold(before, heard.result.events);
      const mind = timed(() => think(knowledge, told, wordsFor(role)));
      const next = timed(() => decide(knowledge, told, role, mind.result, heard.result));

      inStore = 0;
      const whole = timed(() => conversations.handle(incoming));
      if (!whole.result.ok) throw new Error(`${whole.result.error.field}: ${whole.result.error.message}`);
      const inserted = insert(JSON.stringify(said), JSON.stringify(whole.result.answer));
      if (!keep) return;
      const left = whole.ms - heard.ms - mind.ms - next.ms;
      times.insert.push(inserted);
      times.planning.push(mind.ms + next.ms);
      times.store.push(inStore);
      if (said.kind === 'text') {
        times.text.push(whole.ms);
        times.bareText.push(left);
        times.understanding.push(listening);
      } else {
        times.tap.push(whole.ms);
        times.bare.push(left);
      }
    });
  return { talk, times, close: inner.close };
}

/** The store, with the time spent in it. */
function watched(store: Store, spent: (ms: number) => void): Store {
  const watch =
    <A extends unknown[], T>(work: (...args: A) => T) =>
    (...args: A): T => {
      const { ms, result } = timed(() => work(...args));
      spent(ms);
      return result;
    };
  return {
    ...store,
    caseOf: watch(store.caseOf),
    load: watch(store.load),
    answerTo: watch(store.answerTo),
    append: watch(store.append),
    deliver: watch(store.deliver),
  };
}

/** One row in one transaction, as durable as a turn: the message with its answer, the largest row that a turn writes. */
function bareInsert(path: string): (said: string, answered: string) => number {
  const db = openFile(path);
  const at = '2026-03-02T18:30:00.000Z';
  db.prepare(
    "INSERT INTO cases (id, version, state, opened_at, updated_at, status) VALUES ('ABCD2345', 0, '{}', ?, ?, 'open')",
  ).run(at, at);
  const insert = db.prepare(
    `INSERT INTO messages (case_id, seq, message_id, at, role, kind, person, said, answer)
     VALUES ('ABCD2345', ?, ?, ?, 'homeowner', 'text', 'u1', ?, ?)`,
  );
  let seq = 0;
  return (said, answered) => {
    seq += 1;
    return timed(() => insert.run(seq, `m${seq}`, at, said, answered)).ms;
  };
}
