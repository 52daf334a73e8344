/** A long case taken up again: the store opened, its state loaded, one message answered; and its state folded anew. */
import { join } from 'node:path';
import { Conversations } from '../../src/conversation.js';
import type { Knowledge } from '../../src/knowledge/facts.js';
import { openStore } from '../../src/store/store.js';
import { around } from '../support/around.js';
import { timed } from './samples.js';
import { messagesOf } from './talks.js';

const LONG = 200;
const ROUNDS = 30;

export interface ResumeTimes {
  /** from opening the store to the answer, in ms: a case of 200 messages, and one of ten */
  readonly long: number[];
  readonly short: number[];
  /** the state of 200 messages folded from its events */
  readonly folded: number[];
}

export function timeResume(knowledge: Knowledge, folder: string): ResumeTimes {
  const path = join(folder, 'long.db');
  const times: ResumeTimes = { long: [], short: [], folded: [] };
  const say = (conversation: string, talk: number, n: number, id: string): void => {
    const store = openStore(path);
    const message = messagesOf(talk)[n];
    if (!message) throw new Error('a talk has ten messages');
    const from = { id: 'u1', role: message.role };
    const incoming = { conversation, from, id, at: null, said: message.said };
    const handled = new Conversations(knowledge, store, around('bench')).handle(incoming);
    if (!handled.ok) throw new Error(handled.error.message);
    store.close();
  };
  for (let n = 0; n < LONG; n += 1) say('long', Math.floor(n / 10), n % 10, `l${n}`);
  for (let n = 0; n < 10; n += 1) say('short', 0, n, `s${n}`);
  for (let round = 0; round < ROUNDS; round += 1) {
    // an answer, a reading: the same of both
    const n = round % 2 ? 1 : 5;
    times.long.push(timed(() => say('long', 0, n, `m${round}`)).ms);
    times.short.push(timed(() => say('short', 0, n, `m${round}`)).ms);
    const store = openStore(path);
    const caseId = store.caseOf('bench', 'long') ?? '';
    times.folded.push(timed(() => store.rebuild(caseId)).ms);
    store.close();
  }
  return times;
}
