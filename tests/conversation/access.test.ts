/** Who may do what in a case: one test for each cell of the table in DEVELOPERS.md. Rules of our own, no outside source. */
import { userInfo } from 'node:os';
import { describe, expect, it } from 'vitest';
import { caseFiles } from '../../src/commands/case-files.js';
import { exported } from '../../src/commands/exported.js';
import { run as runDesk } from '../../src/commands/desk.js';
import { Office } from '../../src/commands/desk-office.js';
import { erasePerson } from '../../src/conversation/erase.js';
import type { Act } from '../../src/desk/act.js';
import type { Role } from '../../src/knowledge/facts.js';
import { readLine, type Incoming, type Said } from '../../src/message/incoming.js';
import type { Answer } from '../../src/message/outgoing.js';
import { desk, knowledge, type Desk } from '../desk/a-desk.js';
import { accessTable } from '../support/access-table.js';

const DANGER = 'burning-smell';
const KITCHEN = 'kitchen';

interface Person {
  readonly id: string;
  readonly role: Role;
  /** where they talk: in the case of the owner, or elsewhere */
  readonly conversation: string;
}

const TALKERS = {
  'caller, own case': { id: 'u1', role: 'homeowner', conversation: KITCHEN },
  "caller, another's": { id: 'u9', role: 'homeowner', conversation: 'attic' },
  'second person in it': { id: 'u2', role: 'homeowner', conversation: KITCHEN },
  'technician in it': { id: 't1', role: 'technician', conversation: KITCHEN },
  'senior in it': { id: 's1', role: 'senior', conversation: KITCHEN },
} satisfies Record<string, Person>;

function send(d: Desk, { id, role, conversation }: Person, said: Said): Answer {
  const incoming: Incoming = { conversation, from: { id, role }, id: null, at: null, said };
  const handled = d.talk.handle(incoming);
  if (!handled.ok) throw new Error(handled.error.message);
  return handled.answer;
}
const says = (d: Desk, who: Person, text: string): Answer => send(d, who, { kind: 'text', text });

/** The owner's case: open, handed over, or handed over for a danger. */
function world(opening: 'open' | 'visit' | 'danger'): Desk {
  const d = desk();
  says(
    d,
    TALKERS['caller, own case'],
    { open: 'the frost is on the back wall', visit: 'a person please', danger: 'there is a burning smell' }[opening],
  );
  return d;
}

const kept = ({ store, caseId }: Desk): unknown => [store.load(caseId()), store.events(caseId())];
const officeOf = (d: Desk): Office => new Office({ knowledge, store: d.store, conversations: d.talk }, d.now);

/** How a person's attempt in words came out for the owner's case. */
const attempt = (d: Desk, who: Person, text: string): Answer => {
  says(d, who, text);
  return says(d, who, 'yes');
};

/** What each talker meets; the words of the table. */
const TALKING: Readonly<Record<string, (who: Person) => string>> = {
  open: (who) => {
    const d = world('open');
    const answer = says(d, { ...who, conversation: 'garage' }, 'frost on the floor of the freezer');
    expect(answer.caseId).not.toBe(d.caseId());
    if (who.conversation === KITCHEN) return 'yes';
    expect(says(d, who, 'hello').caseId).not.toBe(d.caseId());
    return 'own';
  },
  read: (who) => {
    const d = world('visit');
    d.acts({ act: 'claim' });
    const before = kept(d);
    const answer = send(d, who, { kind: 'poll' });
    if (answer.caseId === d.caseId()) {
      expect(answer.escalation?.claimedBy).toBe('Ana');
      expect(answer.notes).toHaveLength(1);
      return 'yes';
    }
    expect(answer).toMatchObject({ notes: [], escalation: null, status: 'open', conclusion: null });
    expect(kept(d)).toEqual(before);
    return 'not found';
  },
  answer: (who) => {
    const d = world('open');
    const before = kept(d);
    send(d, who, { kind: 'answer', finding: 'frost.kind', value: 'clear-ice' });
    if (d.store.load(d.caseId())?.facts['frost.kind']?.by === who.id) return 'yes';
    expect(kept(d)).toEqual(before);
    return 'not found';
  },
  claim: (who) =>
    refusedAct(who, 'visit', 'I claim this case', (d) => d.store.load(d.caseId())?.escalation?.claimedBy !== null),
  ask: (who) =>
    refusedAct(who, 'visit', 'ask the caller whether it is rented', (d) =>
      d.store.events(d.caseId()).some((e) => e.type === 'desk-asked'),
    ),
  'hand back': (who) =>
    refusedAct(who, 'visit', 'hand this case back to the list', (d) =>
      d.store.events(d.caseId()).some((e) => e.type === 'handed-back'),
    ),
  'clear a danger': (who) => {
    const d = world('danger');
    const before = kept(d);
    attempt(d, who, 'no, there is no burning smell, I was wrong');
    if (who.conversation !== KITCHEN) {
      expect(kept(d)).toEqual(before);
      return 'not found';
    }
    const cleared = d.store.events(d.caseId()).filter((e) => e.type === 'hazard-cleared');
    expect(cleared).toMatchObject([{ hazard: DANGER, by: who.id, how: 'taken-back' }]);
    return 'takes it back';
  },
  close: (who) => {
    const dangerous = world('danger');
    send(dangerous, who, { kind: 'answer', finding: 'repair.result', value: 'fixed' });
    expect(dangerous.store.load(dangerous.caseId())?.closed).toBe(false);
    const d = world('visit');
    const before = kept(d);
    send(d, who, { kind: 'answer', finding: 'repair.result', value: 'fixed' });
    const state = d.store.load(d.caseId());
    if (state?.closed) return `as ${state.closedAs}`;
    expect(kept(d)).toEqual(before);
    return 'not found';
  },
  export: (who) => unheard(who, 'export'),
  erase: (who) => unheard(who, 'erase'),
};

/** Words and role alone do nothing that only the desk may do. */
function refusedAct(who: Person, opening: 'visit', text: string, done: (d: Desk) => boolean): string {
  const d = world(opening);
  const before = kept(d);
  attempt(d, who, text);
  expect(done(d)).toBe(false);
  if (who.conversation === KITCHEN) return 'no';
  expect(kept(d)).toEqual(before);
  return 'not found';
}

/** A line has no way to ask for it, whoever sends it. */
function unheard(who: Person, key: string): string {
  const head = { case: KITCHEN, from: { id: who.id, role: who.role } };
  expect(readLine({ ...head, [key]: true })).toMatchObject({ ok: false });
  expect(readLine({ ...head, text: 'hello', [key]: 'u1' })).toMatchObject({ ok: false, error: { field: key } });
  expect(readLine({ ...head, text: 'hello' })).toMatchObject({ ok: true });
  return who.conversation === KITCHEN ? 'no' : 'not found';
}

/** A word that the desk does not know is refused before the store is opened. */
async function unknownAtTheDesk(word: string): Promise<string> {
  await expect(runDesk([word, 'ABCD2345', '--as', 'Ana'])).rejects.toThrow(`"${word}" is nothing the desk does`);
  return 'no';
}

const acts = (d: Desk, act: Act, by = 'Bo'): string => {
  const before = kept(d);
  const worked = officeOf(d).act(d.caseId(), act, by);
  if (worked.ok) return 'yes';
  expect(kept(d)).toEqual(before);
  return worked.refusal.why;
};

/** An act of the desk: of nobody before it is claimed, never of somebody else, of the one who claimed it. */
function ifTheirs(act: Act, opening: 'visit' | 'danger' = 'visit', me = 'Ana'): string {
  const d = world(opening);
  expect(acts(d, act)).toBe('not-claimed');
  expect(acts(d, { act: 'claim' }, me)).toBe('yes');
  expect(acts(d, act, 'Bo')).toBe('taken');
  expect(acts(world('open'), act)).toBe('no-case');
  expect(acts(d, act, me)).toBe('yes');
  return 'if theirs';
}

const AT_THE_DESK: Readonly<Record<string, (me?: string) => string | Promise<string>>> = {
  open: () => unknownAtTheDesk('open'),
  read: () => {
    const d = world('open');
    expect(officeOf(d).open(d.caseId())).toBeNull();
    expect(officeOf(d).open('NONE2222')).toBeNull();
    expect(officeOf(d).list()).toEqual([]);
    const handed = world('visit');
    expect(officeOf(handed).list()).toHaveLength(1);
    return officeOf(handed).open(handed.caseId()) ? 'if handed over' : 'no';
  },
  answer: () => {
    const d = world('visit');
    acts(d, { act: 'claim' }, 'Ana');
    acts(d, { act: 'ask', text: 'there is clear ice on the floor of the freezer' }, 'Ana');
    // what the desk writes is a question to the caller, never a fact of the case
    return Object.keys(d.store.load(d.caseId())?.facts ?? {}).length === 0 ? 'no' : 'yes';
  },
  claim: (me = 'Ana') => {
    const d = world('visit');
    expect(acts(d, { act: 'claim' }, me)).toBe('yes');
    expect(acts(d, { act: 'claim' }, 'Bo')).toBe('taken');
    expect(acts(world('open'), { act: 'claim' })).toBe('no-case');
    return 'if nobody has it';
  },
  ask: (me) => ifTheirs({ act: 'ask', text: 'Is it rented?' }, 'visit', me),
  'hand back': (me) => ifTheirs({ act: 'hand-back', text: null }, 'visit', me),
  'clear a danger': (me) => ifTheirs({ act: 'clear', hazard: DANGER }, 'danger', me),
  close: (me = 'Ana') => {
    const close = { act: 'close', cause: 'not-found', fixed: null, parts: null } as const;
    const dangerous = world('danger');
    acts(dangerous, { act: 'claim' }, me);
    expect(acts(dangerous, close, me)).toBe('hazards-stand');
    return `${ifTheirs(close, 'visit', me)}, safe`;
  },
  export: () => unknownAtTheDesk('export'),
  erase: () => unknownAtTheDesk('erase'),
};

/** Whoever has a shell: talks as `terminal`, works at the desk under the name that the desk takes where none is given. */
const TERMINAL: Person = { id: 'terminal', role: 'technician', conversation: 'shell' };
const underMyName = (act: string) => () => AT_THE_DESK[act]?.(userInfo().username) ?? '';

const OPERATOR: Readonly<Record<string, () => string | Promise<string>>> = {
  open: () => TALKING['open']?.({ ...TERMINAL, conversation: KITCHEN }) ?? '',
  answer: () => {
    expect(TALKING['answer']?.(TERMINAL)).toBe('not found');
    const d = world('open');
    d.store.join('test', TERMINAL.conversation, d.caseId());
    send(d, TERMINAL, { kind: 'answer', finding: 'frost.kind', value: 'clear-ice' });
    return d.store.load(d.caseId())?.facts['frost.kind']?.by === TERMINAL.id ? 'by its code' : 'no';
  },
  claim: underMyName('claim'),
  ask: underMyName('ask'),
  'hand back': underMyName('hand back'),
  'clear a danger': underMyName('clear a danger'),
  close: underMyName('close'),
  read: () => OPERATOR['export']?.() ?? '',
  export: () => {
    const d = world('open');
    const parts = { store: d.store, files: caseFiles('/nowhere/cases.db') };
    expect(exported(parts, 'NONE2222')).toBeNull();
    return exported(parts, d.caseId())?.messages.length === 1 ? 'yes' : 'no';
  },
  erase: () => {
    const d = world('open');
    const outside = { now: d.now(), forget: () => undefined };
    expect(erasePerson(knowledge, d.store, 'u9', outside)).toEqual([]);
    return erasePerson(knowledge, d.store, 'u1', outside).length === 1 ? 'yes' : 'no';
  },
};

describe('who may do what', () => {
  const cells = accessTable('## Who may do what in a case');
  it('stands in a table of ten acts and seven kinds of people', () => expect(cells).toHaveLength(70));

  it.each(cells)('$who: $act: $what', async ({ act, who, what }) => {
    const talker = (TALKERS as Readonly<Record<string, Person>>)[who];
    const met = talker ? TALKING[act]?.(talker) : who === 'operator' ? OPERATOR[act]?.() : AT_THE_DESK[act]?.();
    expect(await met).toBe(what);
  });
});
