// A turn that throws because of the knowledge it was given: the reply is a safe one, and no danger is lost by it.

import { describe, expect, test } from 'vitest';
import type { CaseState } from '../../src/case/state.js';
import { Conversations } from '../../src/conversation.js';
import type { Knowledge } from '../../src/knowledge/facts.js';
import type { Answer } from '../../src/message/outgoing.js';
import { openStore } from '../../src/store/store.js';
import { AT, dangerOf, knowledge } from './a-talk.js';

/** The real knowledge without these sentences. */
const without = (...keys: string[]): Knowledge => ({
  ...knowledge,
  words: new Map([...knowledge.words].filter(([key]) => !keys.includes(key))),
});

interface Given {
  readonly says: (text: string) => Answer;
  readonly state: () => CaseState | null;
  readonly troubles: unknown[];
}

function given(k: Knowledge): Given {
  const store = openStore(':memory:');
  const troubles: unknown[] = [];
  const conversations = new Conversations(k, store, {
    channel: 'test',
    contact: 'Call the shop.',
    units: null,
    greeted: true,
    pagePath: () => null,
    writePage: () => undefined,
    onTrouble: (_, error) => void troubles.push(error),
    now: () => new Date(AT),
  });
  const from = { id: 'u1', role: 'homeowner' } as const;
  return {
    troubles,
    state: () => store.load(store.caseOf('test', 'kitchen') ?? ''),
    says: (text) => {
      const handled = conversations.handle({
        conversation: 'kitchen',
        from,
        id: null,
        at: null,
        said: { kind: 'text', text },
      });
      if (!handled.ok) throw new Error(handled.error.message);
      return handled.answer;
    },
  };
}

test('given a sound knowledge, then no turn throws', () => {
  const { says, troubles } = given(knowledge);
  expect(says('there is frost in the freezer').ask).not.toBeNull();
  expect(says(dangerOf('gas-smell')).status).toBe('escalated');
  expect(troubles).toEqual([]);
});

describe('given a knowledge without a sentence that the turn needs', () => {
  const safe = knowledge.words.get('trouble')?.homeowner.replace('{contact}', 'Call the shop.');

  test.each([
    ['every question', 'not-sure', 'there is frost in the freezer'],
    ['every echo', 'echo', 'the freezer door does not close'],
    ['every danger', 'hazard.lead', dangerOf('gas-smell')],
  ])('for %s, then the reply is the safe one and the message is kept', (_, key, text) => {
    const { says, state, troubles } = given(without(key));
    const answer = says(text);
    expect(String(troubles[0])).toContain(`"${key}"`);
    expect(answer.reply.endsWith(safe ?? '?')).toBe(true);
    expect(answer.reply).toContain('Call the shop.');
    expect(answer.ask).toBeNull();
    expect(answer.ranking.map((r) => r.fault).sort()).toEqual([...knowledge.faultIds].sort());
    expect(state()?.people).toEqual([{ id: 'u1', role: 'homeowner' }]);
  });

  test('then the next message is answered as ever, where it needs no such sentence', () => {
    const { says } = given(without('echo'));
    expect(says('the freezer door does not close').reply).toBe(safe);
    expect(says('a person please').reply).not.toContain(safe);
  });

  // The danger is heard before anything else is done.
  test('then a danger in the message is raised all the same', () => {
    const { says, state } = given(without('hazard.lead'));
    says(dangerOf('gas-smell'));
    expect(state()?.hazards).toMatchObject([{ hazard: 'gas-smell', level: 'stop' }]);
  });

  test('then there is a safe reply, even where its own words are what is missing', () => {
    const { says } = given(without('not-sure', 'trouble'));
    expect(says('there is frost in the freezer').reply).not.toBe('');
  });
});
