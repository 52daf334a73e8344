import Sqlite from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import type { CaseEvent } from '../../src/case/events.js';
import { fold, newCase } from '../../src/case/state.js';
import type { Answer } from '../../src/message/outgoing.js';
import { openStore, type Store } from '../../src/store/store.js';
import { temporaryFiles } from './temporary.js';

const newFile = temporaryFiles();
const at = '2026-03-02T18:30:00-05:00';
const later = '2026-03-03T18:30:00-05:00';

const answer = (over: Partial<Answer> = {}): Answer => ({
  case: 'k1',
  caseId: 'ABCD2345',
  understood: [],
  withdrawn: [],
  readings: [],
  hazards: [],
  notes: [],
  offTopic: false,
  wantsPerson: false,
  reply: 'Where is the frost?',
  status: 'open',
  ranking: [{ fault: 'something-else', probability: 0.1 + 0.2 }],
  pairs: [],
  ask: null,
  conclusion: null,
  escalation: null,
  ...over,
});

const opened: CaseEvent = { type: 'opened', at, by: 'u1', role: 'homeowner' };
const heard = (by = 'u1'): CaseEvent => ({ type: 'heard', at, by, role: 'homeowner', kind: 'text' });

type Turn = Parameters<Store['append']>[0];

/** A turn that opens a case, or one made from a later version of it. */
function turn(over: Partial<Turn> & { readonly id?: string | null } = {}): Turn {
  const { id = null, ...rest } = over;
  const from = over.from ?? 0;
  const events = over.events ?? (from === 0 ? [opened, heard()] : [heard()]);
  const before = { ...newCase(at, 'homeowner'), version: from };
  return {
    caseId: 'ABCD2345',
    channel: 'stdio',
    conversation: 'k1',
    from,
    incoming: {
      conversation: 'k1',
      from: { id: 'u1', role: 'homeowner' },
      id,
      at: null,
      said: { kind: 'text', text: 'frost' },
    },
    at,
    events,
    state: fold(before, events),
    answer: answer(),
    outbox: [],
    ...rest,
  };
}

describe('a turn', () => {
  it('is kept whole: case, conversation, message, events, answer', () => {
    const store = openStore(newFile());
    expect(store.caseOf('stdio', 'k1')).toBeNull();
    expect(store.load('ABCD2345')).toBeNull();
    expect(store.rebuild('ABCD2345')).toBeNull();
    const first = turn({ id: 'm1' });
    expect(store.append(first)).toBe('stored');
    expect(store.caseOf('stdio', 'k1')).toBe('ABCD2345');
    expect(store.caseOf('discord', 'k1')).toBeNull();
    expect(store.load('ABCD2345')).toEqual(first.state);
    expect(store.rebuild('ABCD2345')).toEqual(first.state);
    expect(JSON.stringify(store.answerTo('ABCD2345', 'm1'))).toBe(JSON.stringify(first.answer));
    expect(store.answerTo('ABCD2345', 'm2')).toBeNull();
    expect(store.messages('ABCD2345')).toEqual([
      { at, role: 'homeowner', person: 'u1', said: { kind: 'text', text: 'frost' }, answer: first.answer },
    ]);
    store.close();
  });

  it('made from an old version is a conflict, and leaves no trace', () => {
    const path = newFile();
    const one = openStore(path);
    const two = openStore(path);
    expect(one.append(turn())).toBe('stored');
    expect(two.append(turn({ from: 2 }))).toBe('stored');
    const before = { state: one.load('ABCD2345'), messages: one.messages('ABCD2345') };
    const late = turn({ from: 2, id: 'late', outbox: [{ id: 'page', kind: 'page', body: 'x' }] });
    expect(one.append(late)).toBe('conflict');
    expect({ state: one.load('ABCD2345'), messages: one.messages('ABCD2345') }).toEqual(before);
    expect(one.waiting('stdio')).toEqual([]);
    expect(one.append({ ...late, from: 3, state: { ...late.state, version: 4 } })).toBe('stored');
    one.close();
    two.close();
  });

  it('that opens a conversation which is open by now is a conflict', () => {
    const store = openStore(newFile());
    expect(store.append(turn())).toBe('stored');
    expect(store.append(turn({ caseId: 'WXYZ6789' }))).toBe('conflict');
    expect(store.load('WXYZ6789')).toBeNull();
    store.close();
  });

  it('with an id that is there by now is a conflict, even without an event', () => {
    const store = openStore(newFile());
    store.append(turn({ id: 'm1' }));
    const again = turn({ from: 2, id: 'm1', events: [] });
    expect(store.append(again)).toBe('conflict');
    expect(store.append({ ...again, from: 2, events: [heard()], state: { ...again.state, version: 3 } })).toBe(
      'conflict',
    );
    expect(store.messages('ABCD2345')).toHaveLength(1);
    store.close();
  });

  it('that fails half-way leaves nothing', () => {
    const store = openStore(newFile());
    const broken = turn({
      outbox: [
        { id: 'page', kind: 'page', body: undefined as unknown as string },
        { id: null as unknown as string, kind: 'page', body: 'x' },
      ],
    });
    expect(() => store.append(broken)).toThrow();
    expect(store.caseOf('stdio', 'k1')).toBeNull();
    expect(store.load('ABCD2345')).toBeNull();
    expect(store.waiting('stdio')).toEqual([]);
    store.close();
  });
});

describe('work done alone', () => {
  it('keeps every other writer out until it ends, and is undone when it throws', () => {
    const path = newFile();
    const store = openStore(path);
    const other = new Sqlite(path, { timeout: 0 });
    const write = (): void =>
      void other
        .prepare(
          "INSERT INTO cases (id, version, state, opened_at, updated_at, status) VALUES ('X', 0, '{}', '', '', 'open')",
        )
        .run();
    store.alone(() => {
      expect(store.append(turn())).toBe('stored');
      expect(write).toThrow('locked');
    });
    write();
    expect(store.load('ABCD2345')).not.toBeNull();
    const work = (): void => {
      store.append(turn({ from: 2, id: 'lost' }));
      throw new Error('on the way');
    };
    expect(() => store.alone(work)).toThrow('on the way');
    expect(store.answerTo('ABCD2345', 'lost')).toBeNull();
    other.close();
    store.close();
  });
});

describe('what waits to be delivered', () => {
  const page = (body: string): Turn['outbox'] => [{ id: 'page-ABCD2345', kind: 'page', body }];

  it('waits until it is taken, for its own channel', () => {
    const store = openStore(newFile());
    store.append(turn({ outbox: page('one') }));
    expect(store.waiting('discord')).toEqual([]);
    const taken: string[] = [];
    const taking = (take: boolean): void =>
      store.deliver('stdio', later, ({ caseId, kind, body }) => {
        expect({ caseId, kind }).toEqual({ caseId: 'ABCD2345', kind: 'page' });
        taken.push(body);
        return take;
      });
    taking(false);
    expect(store.waiting('stdio')).toHaveLength(1);
    taking(true);
    taking(true);
    expect(taken).toEqual(['one', 'one']);
    store.close();
  });

  it('waits again when it has changed, and only then', () => {
    const store = openStore(newFile());
    const taken: string[] = [];
    const deliver = (): void => store.deliver('stdio', later, ({ body }) => taken.push(body) > 0);
    store.append(turn({ outbox: page('one') }));
    deliver();
    store.append(turn({ from: 2, outbox: page('one') }));
    deliver();
    store.append(turn({ from: 3, outbox: page('two') }));
    deliver();
    expect(taken).toEqual(['one', 'two']);
    store.close();
  });

  it('is delivered by one process at a time, so that the newest is written last', () => {
    const path = newFile();
    const slow = openStore(path);
    slow.append(turn({ outbox: page('one') }));
    const other = new Sqlite(path, { timeout: 0 });
    slow.deliver('stdio', later, ({ body }) => {
      expect(body).toBe('one');
      expect(() => other.prepare("UPDATE outbox SET body = 'two'").run()).toThrow('locked');
      return true;
    });
    expect(slow.waiting('stdio')).toEqual([]);
    other.close();
    slow.close();
  });

  it('survives a crash between storing and delivering', () => {
    const path = newFile();
    const crashed = openStore(path);
    crashed.append(turn({ outbox: page('one') }));
    const next = openStore(path);
    expect(next.waiting('stdio').map((w) => w.body)).toEqual(['one']);
    next.close();
    crashed.close();
  });
});

describe('a case taken up on another channel', () => {
  it('is the same case, and is offered once', () => {
    const store = openStore(newFile());
    store.append(turn({ channel: 'terminal', conversation: 'first' }));
    store.join('terminal', 'ABCD2345', 'ABCD2345');
    store.join('stdio', 'k9', 'ABCD2345');
    expect(store.caseOf('terminal', 'ABCD2345')).toBe('ABCD2345');
    expect(store.caseOf('stdio', 'k9')).toBe('ABCD2345');
    expect(store.openCases('terminal').map((c) => c.caseId)).toEqual(['ABCD2345']);
    store.close();
  });

  it('moves a conversation that was about another case', () => {
    const store = openStore(newFile());
    store.append(turn());
    store.append(turn({ caseId: 'WXYZ6789', conversation: 'k2' }));
    store.join('stdio', 'k1', 'WXYZ6789');
    expect(store.caseOf('stdio', 'k1')).toBe('WXYZ6789');
    store.close();
  });
});

describe('the open cases', () => {
  it('are those not closed, the latest first', () => {
    const store = openStore(newFile());
    store.append(turn());
    store.append(turn({ caseId: 'WXYZ6789', conversation: 'k2', at: later }));
    store.append(turn({ caseId: 'QRST2222', conversation: 'k3', answer: answer({ status: 'closed' }) }));
    expect(store.openCases('stdio').map((c) => c.caseId)).toEqual(['WXYZ6789', 'ABCD2345']);
    expect(store.openCases('terminal')).toEqual([]);
    store.close();
  });
});

describe('the last answer', () => {
  it('is the last one that is still there', () => {
    const path = newFile();
    const store = openStore(path);
    store.append(turn({ id: 'm1' }));
    store.append(turn({ from: 2, id: 'm2', answer: answer({ reply: 'And then?' }) }));
    expect(store.lastAnswer('ABCD2345')?.reply).toBe('And then?');
    const erasing = new Sqlite(path);
    erasing.exec("UPDATE messages SET answer = NULL, said = NULL, person = NULL WHERE message_id = 'm2'");
    erasing.close();
    expect(store.lastAnswer('ABCD2345')?.reply).toBe('Where is the frost?');
    expect(store.messages('ABCD2345')[1]).toMatchObject({ person: null, said: null, answer: null });
    expect(store.lastAnswer('NONE2222')).toBeNull();
    store.close();
  });
});
