// The same talks of any acts through a store: what is kept is what the events tell, after each message and each restart;
// a message that comes again changes nothing.

import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { Conversations } from '../../src/conversation.js';
import { workAtDesk } from '../../src/conversation/desk-work.js';
import type { Answer } from '../../src/message/outgoing.js';
import { newCase } from '../../src/case/state.js';
import { openStore, type Store } from '../../src/store/store.js';
import { temporaryFiles } from '../store/temporary.js';
import { runs, tried } from '../support/runs.js';
import { AT, knowledge } from '../turn/a-talk.js';
import { anyActs, picked, type AnyAct } from '../turn/any-act.js';
import { broken } from '../turn/invariants.js';

const newFile = temporaryFiles();

interface Played {
  readonly bad: string[];
  readonly messages: number;
}

function play(acts: readonly AnyAct[]): Played {
  const path = newFile();
  let now = Date.parse(AT);
  const troubles: string[] = [];
  const start = (): { store: Store; talk: Conversations } => {
    const store = openStore(path);
    const talk = new Conversations(knowledge, store, {
      channel: 'stdio',
      contact: 'call the shop',
      units: null,
      greeted: false,
      pagePath: (caseId) => `${caseId}.html`,
      writePage: () => undefined,
      onTrouble: (what, error) => void troubles.push(`${what}: ${String(error)}`),
      now: () => new Date(now),
    });
    talk.deliver();
    talk.fallDue();
    return { store, talk };
  };
  let { store, talk } = start();
  let last: Answer | null = null;
  let messages = 0;
  const wrong = (i: number, bad: readonly string[]): Played => {
    store.close();
    return { bad: [`act ${i}`, ...bad], messages };
  };
  for (const [i, act] of acts.entries()) {
    const caseId = store.caseOf('stdio', 'k');
    if (act.act === 'restarts') {
      store.close();
      ({ store, talk } = start());
      continue;
    }
    if (act.act === 'desk') {
      if (caseId) workAtDesk(knowledge, store, caseId, act.does, 'senior-1', new Date(now));
      continue;
    }
    const { role, by, hours } = act.line;
    now += hours * 3_600_000;
    const said = act.act === 'says' ? act.said : picked(last?.ask ?? null, act.choice);
    const before = (caseId ? store.load(caseId) : null) ?? newCase(AT, role);
    const incoming = { conversation: 'k', from: { id: by, role }, id: `m${i}`, at: null, said };
    const handled = talk.handle(incoming);
    messages += 1;
    if (!handled.ok) return wrong(i, [`refused: ${handled.error.message}`]);
    const { answer } = handled;
    const after = store.load(answer.caseId);
    // a poll that comes first opens nothing
    if (!after) {
      if (said.kind !== 'poll') return wrong(i, ['nothing was kept']);
      continue;
    }
    last = answer;
    const all = store.events(answer.caseId);
    const bad = [
      ...troubles,
      ...broken({ role, before, after, events: all.slice(before.version), all, answer }),
      ...(JSON.stringify(store.rebuild(answer.caseId)) === JSON.stringify(after)
        ? []
        : ['not the state of its events']),
    ];
    const same = talk.handle({ ...incoming, said: { kind: 'text', text: 'I smell gas' } });
    if (JSON.stringify(same) !== JSON.stringify(handled)) bad.push('the same message again got another answer');
    if (store.load(answer.caseId)?.version !== after.version) bad.push('the same message again changed the case');
    if (bad.length > 0) return wrong(i, [JSON.stringify(said), ...bad]);
  }
  store.close();
  return { bad: [], messages };
}

test(
  'no message breaks what holds in every talk, through a store and its restarts',
  () => {
    let messages = 0;
    fc.assert(
      fc.property(anyActs(12), (acts) => {
        const played = play(acts);
        messages += played.messages;
        expect(played.bad).toEqual([]);
      }),
      runs(40),
    );
    tried('messages in talks of any acts through a store', messages);
  },
  runs(0).timeout,
);
