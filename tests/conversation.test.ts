/** Load, turn, append, deliver: what a talk does when another process or its own turn gets in the way. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { Conversations, type Keeps, type Surroundings } from '../src/conversation.js';
import type { Knowledge } from '../src/knowledge/facts.js';
import type { Incoming, Said } from '../src/message/incoming.js';
import type { Answer } from '../src/message/outgoing.js';
import { openStore, type Store } from '../src/store/store.js';
import { realKnowledge } from './support/knowledge.js';

const folder = mkdtempSync(join(tmpdir(), 'thawline-conversation-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
let files = 0;
const newFile = (): string => join(folder, `${(files += 1)}.db`);

const surroundings = (over: Partial<Surroundings> = {}): Surroundings => ({
  channel: 'stdio',
  contact: null,
  units: null,
  greeted: false,
  pagePath: (caseId) => `pages/${caseId}.md`,
  writePage: () => undefined,
  onTrouble: (_, error) => {
    throw error;
  },
  ...over,
});

const message = (said: Said | string, over: Partial<Incoming> = {}): Incoming => ({
  conversation: 'k1',
  from: { id: 'u1', role: 'homeowner' },
  id: null,
  at: null,
  said: typeof said === 'string' ? { kind: 'text', text: said } : said,
  ...over,
});

const answered = (handled: ReturnType<Conversations['handle']>): Answer => {
  if (!handled.ok) throw new Error(handled.error.message);
  return handled.answer;
};

const soft: Said = { kind: 'answer', finding: 'frost.kind', value: 'soft-snow' };

describe('a case that another process changes between load and append', () => {
  /** A store whose first `times` appends come too late: the other process has just said something in the case. */
  function raced(
    store: Store,
    other: Conversations,
    times: number,
  ): Keeps & { appends: number; alone: Store['alone'] } {
    const keeps = {
      ...store,
      appends: 0,
      append: (turn: Parameters<Store['append']>[0]) => {
        keeps.appends += 1;
        if (keeps.appends <= times) other.handle(message(soft, { from: { id: 'other', role: 'technician' } }));
        return store.append(turn);
      },
    };
    return keeps;
  }

  it.each([1, 2])('is answered from its new state (%s times too late)', (times) => {
    const path = newFile();
    const [mine, theirs] = [openStore(path), openStore(path)];
    const keeps = raced(mine, new Conversations(realKnowledge(), theirs, surroundings()), times);
    const talk = new Conversations(realKnowledge(), keeps, surroundings());
    const { caseId } = answered(talk.handle(message('frost on the back wall of the freezer', { id: 'm1' })));
    expect(keeps.appends).toBe(times + 1);
    expect(mine.messages(caseId).map((m) => m.person)).toEqual([...Array<string>(times).fill('other'), 'u1']);
    expect(Object.keys(mine.load(caseId)?.facts ?? {})).toEqual(['frost.kind', 'frost.location']);
    expect(mine.rebuild(caseId)).toEqual(mine.load(caseId));
    mine.close();
    theirs.close();
  });

  it('has the third try for itself alone', () => {
    const path = newFile();
    const store = openStore(path);
    let alone = false;
    const within: boolean[] = [];
    const keeps: Keeps = {
      ...store,
      alone: (work) => {
        alone = true;
        return store.alone(work);
      },
      append: (turn) => {
        within.push(alone);
        return alone ? store.append(turn) : 'conflict';
      },
    };
    const talk = new Conversations(realKnowledge(), keeps, surroundings());
    const { caseId } = answered(talk.handle(message('frost on the back wall')));
    expect(within).toEqual([false, false, true]);
    expect(store.messages(caseId)).toHaveLength(1);
    store.close();
  });

  it('gets one answer for one id that two processes were given', () => {
    const path = newFile();
    const [mine, theirs] = [openStore(path), openStore(path)];
    const other = new Conversations(realKnowledge(), theirs, surroundings());
    let first: Answer | null = null;
    const keeps: Keeps = {
      ...mine,
      append: (turn) => {
        first ??= answered(other.handle(message('frost on the back wall', { id: 'm1' })));
        return mine.append(turn);
      },
    };
    const second = answered(
      new Conversations(realKnowledge(), keeps, surroundings()).handle(message('frost on the back wall', { id: 'm1' })),
    );
    expect(second).toEqual(first);
    expect(mine.messages(second.caseId)).toHaveLength(1);
    mine.close();
    theirs.close();
  });
});

describe('a poll', () => {
  it('is kept only where it has an id and a case, and moves nothing', () => {
    const store = openStore(newFile());
    const talk = new Conversations(realKnowledge(), store, surroundings());
    talk.handle(message({ kind: 'poll' }, { id: 'p0' }));
    expect(store.caseOf('stdio', 'k1')).toBeNull();
    const { caseId } = answered(talk.handle(message('frost on the back wall')));
    const before = store.load(caseId);
    talk.handle(message({ kind: 'poll' }));
    expect(store.messages(caseId)).toHaveLength(1);
    const one = answered(talk.handle(message({ kind: 'poll' }, { id: 'p1' })));
    talk.handle(message(soft, { id: 'm2' }));
    expect(answered(talk.handle(message({ kind: 'poll' }, { id: 'p1' })))).toEqual(one);
    expect(store.messages(caseId).map((m) => m.said?.kind)).toEqual(['text', 'poll', 'answer']);
    expect(before?.version).toBe(4);
    expect(store.rebuild(caseId)).toEqual(store.load(caseId));
    store.close();
  });
});

describe('a turn that throws', () => {
  /** The words can be heard no more: the parts of the knowledge folder are gone. */
  const broken = (): Knowledge => ({ ...realKnowledge(), parts: null as unknown as Knowledge['parts'] });

  it('keeps the message, points to a person, and the case goes on as it stood', () => {
    const store = openStore(newFile());
    const troubles: string[] = [];
    const around = surroundings({ contact: 'Call 000.', onTrouble: (what) => troubles.push(what) });
    const well = new Conversations(realKnowledge(), store, around);
    const before = answered(well.handle(message('there is a burning smell')));
    const unwell = new Conversations(broken(), store, around);
    const trouble = answered(unwell.handle(message('and frost on the back wall', { id: 'm2' })));
    expect(troubles).toHaveLength(1);
    expect(trouble.reply).toContain('Call 000.');
    expect(trouble).toMatchObject({
      understood: [],
      hazards: [],
      status: 'escalated',
      ask: before.ask,
      escalation: before.escalation,
    });
    expect(trouble.ranking).toEqual(before.ranking);
    expect(store.messages(before.caseId).map((m) => m.answer?.reply)).toEqual([before.reply, trouble.reply]);
    expect(store.rebuild(before.caseId)).toEqual(store.load(before.caseId));
    expect(answered(unwell.handle(message('x', { id: 'm2' })))).toEqual(trouble);
    expect(answered(well.handle(message('thanks'))).status).toBe('escalated');
    store.close();
  });

  it('opens a case or opens it again, as any message does', () => {
    const store = openStore(newFile());
    const around = surroundings({ units: 'si', onTrouble: () => undefined });
    const well = new Conversations(realKnowledge(), store, around);
    const unwell = new Conversations(broken(), store, around);
    const first = answered(unwell.handle(message('frost on the back wall')));
    expect(first.status).toBe('open');
    expect(first.ranking.reduce((sum, r) => sum + r.probability, 0)).toBeCloseTo(1, 6);
    expect(store.load(first.caseId)?.units).toBe('si');
    expect(store.rebuild(first.caseId)).toEqual(store.load(first.caseId));
    well.handle(message('the frost is on the back wall'));
    expect(answered(well.handle(message({ kind: 'answer', finding: 'repair.result', value: 'fixed' }))).status).toBe(
      'closed',
    );
    expect(answered(unwell.handle(message('it is back'))).status).toBe('open');
    expect(store.load(first.caseId)?.closed).toBe(false);
    expect(store.rebuild(first.caseId)).toEqual(store.load(first.caseId));
    store.close();
  });
});

describe('the page of a hand-over', () => {
  it('is written once it is stored, and again when it has changed', () => {
    const store = openStore(newFile());
    const pages: string[] = [];
    const talk = new Conversations(realKnowledge(), store, surroundings({ writePage: (_, page) => pages.push(page) }));
    talk.handle(message('frost on the back wall'));
    expect(pages).toEqual([]);
    talk.handle(message('there is a burning smell'));
    expect(pages).toHaveLength(1);
    talk.handle(message({ kind: 'poll' }));
    expect(pages).toHaveLength(1);
    talk.handle(message({ kind: 'answer', finding: 'unit.power', value: 'off' }));
    expect(pages).toHaveLength(2);
    expect(pages[1]).not.toBe(pages[0]);
    store.close();
  });

  it('that cannot be written does not keep the answer from the person, and is tried again', () => {
    const store = openStore(newFile());
    const troubles: string[] = [];
    const full = surroundings({
      writePage: () => {
        throw new Error('no room');
      },
      onTrouble: (what, error, caseId) => troubles.push(`${caseId} ${what} ${String(error)}`),
    });
    const answer = answered(
      new Conversations(realKnowledge(), store, full).handle(message('there is a burning smell')),
    );
    expect(answer.status).toBe('escalated');
    expect(troubles).toEqual([expect.stringContaining('no room')]);
    expect(troubles[0]).toContain(answer.caseId);
    const pages: string[] = [];
    new Conversations(realKnowledge(), store, surroundings({ writePage: (caseId) => pages.push(caseId) })).deliver();
    expect(pages).toEqual([answer.caseId]);
    store.close();
  });
});
