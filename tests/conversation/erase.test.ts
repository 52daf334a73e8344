/** Given people who talked and a desk that worked, when one of them is erased, then nothing tells of them any longer. */
import Sqlite from 'better-sqlite3';
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { erasePerson, forgetOld } from '../../src/conversation/erase.js';
import { figuresOf } from '../../src/outcomes/figures.js';
import { outcomeOf } from '../../src/outcomes/outcome.js';
import { openStore, type Store } from '../../src/store/store.js';
import { adviseThaw, desk, knowledge, type Desk } from '../desk/a-desk.js';
import { temporaryFiles } from '../store/temporary.js';

const newFile = temporaryFiles();
const OWNER = 'owner-4711';
const OTHER = 'other-0815';
const ANA = 'Ana-Maria Petrowa';

const onFile = (): Desk => desk({}, openStore(newFile()));

const figures = (store: Store): unknown =>
  figuresOf(
    knowledge,
    store.cases().flatMap((id) => outcomeOf(id, store.events(id)) ?? []),
  );

/** What of these texts stands anywhere in the file or its log, as it is or as JSON writes it. */
function foundIn({ store }: Desk, texts: readonly string[]): string[] {
  const bytes = ['', '-wal', '-shm'].map((end) => store.path + end).filter((f) => existsSync(f));
  return texts.filter((text) =>
    bytes.some((f) => {
      const file = readFileSync(f);
      return file.includes(text) || file.includes(JSON.stringify(text).slice(1, -1));
    }),
  );
}

function erase(d: Desk, person: string): { cases: readonly string[]; forgotten: string[] } {
  const forgotten: string[] = [];
  const cases = erasePerson(knowledge, d.store, person, { now: d.now(), forget: (id) => void forgotten.push(id) });
  expect(d.store.sweep(true)).toBe(true);
  return { cases, forgotten };
}

const agrees = ({ store, caseId }: Desk, id = caseId()): void => expect(store.rebuild(id)).toEqual(store.load(id));

/** The owner alone with the desk, from danger to the end. Returns every text that somebody wrote. */
function wholeStory(d: Desk): { owner: string[]; ana: string[]; caseId: string } {
  const owner = [
    'my name is Zacharias and "it" smells burning',
    'Grüße from 12 Quimby Lane\nring twice, the bell is broken',
    'my time zone is UTC-7',
  ];
  for (const text of owner) d.says(text, { by: OWNER });
  const caseId = d.caseId();
  d.acts({ act: 'claim' }, ANA);
  d.acts({ act: 'ask', text: 'Zacharias, which floor?' }, ANA);
  d.polls({ by: OWNER });
  d.says('third floor, the blue door', { by: OWNER });
  for (const { hazard } of d.store.load(caseId)?.hazards ?? []) d.acts({ act: 'clear', hazard }, ANA);
  const closed = d.acts(
    { act: 'close', cause: 'evaporator-fan-failed', fixed: 'swapped the humming fan', parts: 'fan 9x' },
    ANA,
  );
  expect(closed.ok).toBe(true);
  d.polls({ by: OWNER });
  return {
    owner: [...owner, 'third floor, the blue door'],
    ana: ['Zacharias, which floor?', 'swapped the humming fan', 'fan 9x'],
    caseId,
  };
}

describe('a caller who is alone in a case', () => {
  it('leaves nothing in the bytes of the file or its log: id, words, answers, what the desk wrote about them', () => {
    const d = onFile();
    const { owner, ana, caseId } = wholeStory(d);
    const texts = [OWNER, ...owner, ...ana, 'Quimby', 'Zacharias'];
    expect(foundIn(d, texts)).toEqual(texts);
    const before = figures(d.store);
    expect(before).toMatchObject({ cases: 1, causes: { 'evaporator-fan-failed': 1 } });
    expect(erase(d, OWNER)).toEqual({ cases: [caseId], forgotten: [caseId] });
    expect(foundIn(d, texts)).toEqual([]);
    expect(figures(d.store)).toEqual(before);
    agrees(d, caseId);
    const state = d.store.load(caseId);
    expect(state?.people.map((p) => p.id)).toEqual(['']);
    expect(state?.offset).toEqual({ minutes: 0, told: false });
    expect(d.store.messages(caseId).every((m) => m.person === null && m.said === null && m.answer === null)).toBe(true);
  });

  it('leaves nothing that waits to be delivered, and nobody is found by the old name of the talk', () => {
    const d = onFile();
    d.says('there is a burning smell', { by: OWNER, id: 'm1' });
    const caseId = d.caseId();
    d.store.happen({
      caseId,
      from: d.store.load(caseId)?.version ?? 0,
      at: d.now().toISOString(),
      events: [],
      state: d.store.load(caseId)!,
      status: 'escalated',
      dueAt: null,
      renewed: { [`page-${caseId}`]: 'a page that waits' },
    });
    expect(d.store.waiting('test')).toHaveLength(1);
    erase(d, OWNER);
    expect(d.store.waiting('test')).toEqual([]);
    expect(foundIn(d, ['a page that waits', 'burning smell'])).toEqual([]);
    expect(d.store.caseOf('test', 'kitchen')).toBeNull();
    expect(d.store.due('test', '2999-01-01T00:00:00.000Z')).toEqual([]);
    // the danger is still the desk's
    expect(d.store.escalated()).toEqual([caseId]);
    expect(d.store.load(caseId)?.escalation).toMatchObject({ state: 'waiting' });
  });

  it('is a new person in a new case when they write again', () => {
    const d = onFile();
    const first = d.says('frost on the back wall', { by: OWNER, id: 'm1' });
    erase(d, OWNER);
    const again = d.says('frost on the back wall', { by: OWNER, id: 'm1' });
    expect(again.caseId).not.toBe(first.caseId);
  });

  it('is known no more the second time', () => {
    const d = onFile();
    adviseThaw(d);
    expect(erase(d, 'u1').cases).toHaveLength(1);
    expect(erase(d, 'u1')).toEqual({ cases: [], forgotten: [] });
    expect(erase(d, 'nobody-of-that-name').cases).toEqual([]);
  });
});

describe('one of two callers', () => {
  function two(): Desk {
    const d = onFile();
    d.says('frost on the back wall, says Zacharias', { by: OWNER, id: 'm1' });
    d.says('owner-4711 told me it hums', { by: OTHER, id: 'm2' });
    d.says('a person please', { by: OWNER });
    d.acts({ act: 'claim' }, ANA);
    d.acts({ act: 'ask', text: 'Does owner-4711 rent it?' }, ANA);
    d.polls({ by: OWNER });
    d.says('yes, from my uncle Quimby', { by: OWNER });
    d.polls({ by: OTHER });
    return d;
  }

  it('is gone, the other keeps the case, their own words and their answers', () => {
    const d = two();
    const caseId = d.caseId();
    const texts = [OWNER, 'Zacharias', 'Quimby'];
    expect(foundIn(d, texts)).toEqual(texts);
    const stored = d.store.answerTo(caseId, 'm2');
    expect(erase(d, OWNER)).toEqual({ cases: [caseId], forgotten: [] });
    expect(foundIn(d, texts)).toEqual([]);
    agrees(d);
    expect(d.caseId()).toBe(caseId);
    const theirs = d.store.messages(caseId).filter((m) => m.person === OTHER);
    expect(theirs[0]?.said).toEqual({ kind: 'text', text: '… told me it hums' });
    expect(d.says('anything', { by: OTHER, id: 'm2' })).toEqual(stored);
    expect(d.store.load(caseId)?.escalation).toMatchObject({ state: 'claimed', claimedBy: ANA });
    const next = d.says('the frost is on the floor too', { by: OTHER });
    expect(next.caseId).toBe(caseId);
    agrees(d);
  });

  it('takes the name of the talk along where it is theirs', () => {
    const d = onFile();
    d.says('frost on the back wall', { by: 'kitchen' });
    d.says('and on the floor', { by: OTHER });
    const caseId = d.caseId();
    erase(d, 'kitchen');
    expect(d.store.caseOf('test', 'kitchen')).toBeNull();
    expect(foundIn(d, ['kitchen'])).toEqual([]);
    expect(d.store.load(caseId)?.people.map((p) => p.id)).toEqual(['', OTHER]);
  });
});

describe('a technician of the desk', () => {
  it('has no name any longer, in what was done, told and printed; the case and its figures stay', () => {
    const d = onFile();
    const { owner, caseId } = wholeStory(d);
    const before = figures(d.store);
    expect(foundIn(d, [ANA])).toEqual([ANA]);
    expect(erase(d, ANA)).toEqual({ cases: [caseId], forgotten: [] });
    expect(foundIn(d, [ANA, 'Petrowa', 'swapped the humming fan'])).toEqual([]);
    expect(foundIn(d, owner)).toEqual(owner);
    expect(figures(d.store)).toEqual(before);
    agrees(d);
    d.talk.deliver();
    expect(d.pages.at(-1)?.html).not.toContain('Petrowa');
    expect(d.polls({ by: OWNER }).escalation).toMatchObject({ state: 'closed', claimedBy: null });
  });

  it('who holds a case gives it back, so that another can claim it, and the caller is told', () => {
    const d = onFile();
    d.says('a person please', { by: OWNER });
    d.acts({ act: 'claim' }, ANA);
    d.polls({ by: OWNER });
    erase(d, ANA);
    agrees(d);
    expect(d.store.load(d.caseId())?.escalation).toMatchObject({ state: 'waiting', claimedBy: null });
    const told = d.polls({ by: OWNER }).notes.map((n) => n.text);
    expect(told).toEqual([expect.stringMatching(/^A technician .*next technician/)]);
    expect(d.acts({ act: 'claim' }, 'Bo').ok).toBe(true);
  });
});

describe('every column of the store', () => {
  // Who adds one asks first whether it can hold a person, and then teaches src/store/erase.ts
  const HELD: Readonly<Record<string, string>> = {
    cases: 'state',
    conversations: 'name',
    messages: 'message_id person said answer',
    events: 'data person words',
    outbox: 'id body room ask message failed',
    readers: 'person',
    rooms: 'conversation place owner person seen',
    names: 'id name',
    inbox: 'id person body',
    leases: '',
  };
  const NOBODY: Readonly<Record<string, string>> = {
    cases: 'id version opened_at updated_at status due_at shape erased_at',
    conversations: 'channel case_id',
    messages: 'case_id seq at role kind',
    events: 'case_id version at type news',
    outbox: 'case_id channel kind created_at delivered_at seq tries tried_at next_at',
    readers: 'case_id version',
    rooms: 'guild parent role opened_at',
    names: '',
    inbox: 'at starts',
    // a machine and a process of it
    leases: 'shard holder until',
  };

  it('is known to hold a person, and then erased, or to hold nobody', () => {
    const path = newFile();
    openStore(path).close();
    const db = new Sqlite(path);
    const tables = db.prepare<[], string>("SELECT name FROM sqlite_master WHERE type = 'table'").pluck().all();
    const columns = (table: string): string[] =>
      (db.pragma(`table_info(${table})`) as { name: string }[]).map((c) => c.name).sort();
    const there = Object.fromEntries(tables.sort().map((t) => [t, columns(t)]));
    db.close();
    const known = Object.keys(HELD).map((t) => [t, `${HELD[t]} ${NOBODY[t]}`.trim().split(' ').sort()]);
    expect(there).toEqual(Object.fromEntries(known));
  });
});

describe('a person of a chat server', () => {
  const room = (conversation: string, owner: string, person: string) => ({
    conversation,
    place: `place-of-${conversation}`,
    guild: 'g1',
    parent: 'p1',
    owner,
    person,
    role: 'homeowner',
    seen: `seen-in-${conversation}`,
  });

  it('leaves no room, no post there, no name; the rooms of others stay', () => {
    const path = newFile();
    const d = desk({ channel: 'discord' }, openStore(path));
    const at = d.now().toISOString();
    d.store.rooms.open(room('kitchen', OWNER, OWNER), at);
    d.store.rooms.open(room('attic', OTHER, OTHER), at);
    d.says('frost on the back wall', { by: OWNER });
    const caseId = d.caseId();
    const post = { id: 'post-17', kind: 'answer', body: 'hello', room: 'kitchen', ask: 'asked-of-them' };
    d.store.posts.add(caseId, 'discord', at, post);
    d.store.posts.sent(d.store.posts.next('kitchen')!, 'message-23', at, true);
    const texts = [OWNER, 'place-of-kitchen', 'seen-in-kitchen', 'asked-of-them', 'message-23'];
    expect(foundIn(d, texts)).toEqual(texts);
    expect(erase(d, OWNER).cases).toEqual([caseId]);
    expect(foundIn(d, texts)).toEqual([]);
    expect(d.store.rooms.get('kitchen')).toBeNull();
    expect(d.store.rooms.get('attic')?.owner).toBe(OTHER);
  });

  it('leaves nothing of what they tapped and what nobody has worked on yet', () => {
    const d = onFile();
    const body = '{"token":"token-of-a-tap"}';
    const taps = [OWNER, OTHER].map((person) => ({ id: `tap-of-${person}`, person, body }));
    d.store.inbox.keep(taps, d.now().toISOString());
    erase(d, OWNER);
    expect(foundIn(d, [`tap-of-${OWNER}`, OWNER])).toEqual([]);
    expect(d.store.inbox.undone().map((t) => t.person)).toEqual([OTHER]);
  });

  it.each(['id-of-ana', ANA])('who works at the desk is gone by their id and by their name: %s', (person) => {
    const d = onFile();
    d.store.rooms.nameOf('id-of-ana', ANA);
    d.store.rooms.nameOf('id-of-bo', 'Bo');
    const { caseId } = wholeStory(d);
    expect(erase(d, person).cases).toEqual([caseId]);
    expect(foundIn(d, ['id-of-ana', ANA])).toEqual([]);
    expect(foundIn(d, ['id-of-bo'])).toEqual(['id-of-bo']);
    agrees(d, caseId);
  });
});

describe('an erasure', () => {
  it('is whole or not at all: files that cannot be deleted leave everything as it was', () => {
    const d = onFile();
    wholeStory(d);
    const before = d.store.messages(d.caseId());
    const forget = (): void => {
      throw new Error('the folder is not ours');
    };
    expect(() => erasePerson(knowledge, d.store, OWNER, { now: d.now(), forget })).toThrow('not ours');
    expect(d.store.messages(d.caseId())).toEqual(before);
    agrees(d);
  });

  it('makes a turn that another process has begun start again', () => {
    const d = onFile();
    d.says('frost on the back wall', { by: OWNER });
    const begun = d.store.load(d.caseId());
    const caseId = d.caseId();
    erase(d, OWNER);
    const stored = d.store.happen({
      caseId,
      from: begun?.version ?? 0,
      at: d.now().toISOString(),
      events: [],
      state: begun!,
      status: 'open',
      dueAt: null,
      renewed: {},
    });
    expect(stored).toBe('conflict');
    expect(foundIn(d, [OWNER])).toEqual([]);
  });
});

describe('what was kept long enough', () => {
  const forgotten = (d: Desk, days: number): readonly string[] => {
    const cases = forgetOld(knowledge, d.store, days, { now: d.now(), forget: () => undefined });
    d.store.sweep(false);
    return cases;
  };

  it('goes with everybody in it, desk included, once it was closed so many days ago; the figures stay', () => {
    const d = onFile();
    const { owner, ana, caseId } = wholeStory(d);
    const before = figures(d.store);
    d.later(30 * 24 - 1);
    expect(forgotten(d, 30)).toEqual([]);
    d.later(2);
    expect(forgotten(d, 30)).toEqual([caseId]);
    expect(foundIn(d, [OWNER, ANA, ...owner, ...ana])).toEqual([]);
    expect(figures(d.store)).toEqual(before);
    agrees(d, caseId);
    expect(forgotten(d, 30)).toEqual([]);
  });

  it('is counted from the last thing that happened, on whatever clock it was told', () => {
    const d = onFile();
    wholeStory(d);
    const caseId = d.caseId();
    // two hours before Greenwich says so
    d.says('it hums again', { by: OWNER, at: '2026-12-01T23:00:00+09:00' });
    d.answers('repair.result', 'fixed', { by: OWNER, at: '2026-12-01T23:00:00+09:00' });
    expect(d.store.load(caseId)?.closed).toBe(true);
    d.later((Date.parse('2026-12-31T13:00:00Z') - d.now().getTime()) / 3_600_000);
    expect(forgotten(d, 30)).toEqual([]);
    d.later(2);
    expect(forgotten(d, 30)).toEqual([caseId]);
  });

  it('is no open case, however old', () => {
    const d = onFile();
    d.says('frost on the back wall', { by: OWNER });
    d.later(24 * 4000);
    expect(forgotten(d, 1)).toEqual([]);
  });
});
