// A store in memory, a clock that is set by hand, people who talk, and a desk that works on the same cases.

import { Conversations, type Surroundings } from '../../src/conversation.js';
import { workAtDesk, type Worked } from '../../src/conversation/desk-work.js';
import type { Act } from '../../src/desk/act.js';
import type { Role } from '../../src/knowledge/facts.js';
import type { Incoming, Said } from '../../src/message/incoming.js';
import type { Answer } from '../../src/message/outgoing.js';
import { openStore, type Store } from '../../src/store/store.js';
import { realKnowledge } from '../support/knowledge.js';

export const knowledge = realKnowledge();
const START = '2026-11-25T10:00:00.000Z';
const HOUR = 3_600_000;

interface Line {
  readonly by?: string;
  readonly role?: Role;
  readonly id?: string;
  readonly at?: string;
}

export interface Desk {
  readonly store: Store;
  readonly talk: Conversations;
  readonly says: (text: string, line?: Line) => Answer;
  readonly answers: (finding: string, value: string, line?: Line) => Answer;
  readonly polls: (line?: Line) => Answer;
  readonly acts: (act: Act, by?: string) => Worked;
  readonly caseId: () => string;
  /** pages written, the newest last */
  readonly pages: { readonly markdown: string; readonly html: string | null }[];
  readonly later: (hours: number) => void;
  readonly now: () => Date;
  /** the program ends and starts again on the same store */
  readonly restarts: () => void;
}

export function desk(over: Partial<Surroundings> = {}, store: Store = openStore(':memory:')): Desk {
  let at = Date.parse(START);
  const pages: Desk['pages'] = [];
  const around: Surroundings = {
    channel: 'test',
    contact: null,
    units: null,
    greeted: true,
    pagePath: (caseId) => `pages/${caseId}.html`,
    writePage: (_, markdown, html) => void pages.push({ markdown, html }),
    onTrouble: (_, error) => {
      throw error;
    },
    now: () => new Date(at),
    ...over,
  };
  let talk = new Conversations(knowledge, store, around);
  const send = (said: Said, line: Line): Answer => {
    const incoming: Incoming = {
      conversation: 'kitchen',
      from: { id: line.by ?? 'u1', role: line.role ?? 'homeowner' },
      id: line.id ?? null,
      at: line.at ?? null,
      said,
    };
    const handled = talk.handle(incoming);
    if (!handled.ok) throw new Error(handled.error.message);
    return handled.answer;
  };
  const caseId = (): string => store.caseOf(around.channel, 'kitchen') ?? '';
  return {
    store,
    get talk() {
      return talk;
    },
    says: (text, line = {}) => send({ kind: 'text', text }, line),
    answers: (finding, value, line = {}) => send({ kind: 'answer', finding, value }, line),
    polls: (line = {}) => send({ kind: 'poll' }, line),
    acts: (act, by = 'Ana') => workAtDesk(knowledge, store, caseId(), act, by, new Date(at)),
    caseId,
    pages,
    later: (hours) => void (at += hours * HOUR),
    now: () => new Date(at),
    restarts: () => void (talk = new Conversations(knowledge, store, around)),
  };
}

/** A homeowner whose drain is iced talks until told how to thaw it. */
export function adviseThaw(d: Desk): Answer {
  const told = {
    'frost.location': 'freezer-floor',
    'frost.kind': 'clear-ice',
    'drain.condition': 'iced',
    'cooling.freezer': 'normal',
    'cooling.fresh-food': 'normal',
    'drain.refroze': 'first-time',
  };
  let answer = d.says('hello');
  for (const [finding, value] of Object.entries(told)) answer = d.answers(finding, value);
  for (let n = 0; n < 20 && answer.ask && !answer.conclusion; n += 1)
    answer = d.answers(answer.ask.finding ?? answer.ask.reading ?? '', 'not-sure');
  if (answer.conclusion?.fault !== 'drain-iced' || answer.conclusion.action !== 'self-repair')
    throw new Error('the talk did not end with the thaw of a drain');
  return answer;
}
