// A talk without a store: each message through `turn`, with a clock and ids of its own.

import type { CaseEvent } from '../../src/case/events.js';
import { fold, newCase, type CaseState } from '../../src/case/state.js';
import type { Role } from '../../src/knowledge/facts.js';
import type { Incoming, ReadingIn } from '../../src/message/incoming.js';
import type { Answer } from '../../src/message/outgoing.js';
import { turn } from '../../src/turn.js';
import { realKnowledge } from '../support/knowledge.js';

export const AT = '2026-11-25T10:00:00.000Z';
const CODE = 'K7WX2M9P';
export const knowledge = realKnowledge();

interface Line {
  readonly role?: Role;
  readonly by?: string;
  readonly at?: string;
}

export interface Talk {
  readonly says: (text: string, line?: Line) => Answer;
  readonly answers: (finding: string, value: string | readonly string[], line?: Line) => Answer;
  readonly measures: (reading: ReadingIn, line?: Line) => Answer;
  readonly polls: () => Answer;
  readonly state: () => CaseState;
  /** everything that happened, from the first message on */
  readonly events: () => readonly CaseEvent[];
}

/** `given`: what happened before the first message of the test. */
export function talk(role: Role = 'homeowner', given: readonly CaseEvent[] = []): Talk {
  let state = fold(newCase(AT, role), given);
  let events: CaseEvent[] = [...given];
  let ids = 0;
  const send = (said: Incoming['said'], line: Line = {}): Answer => {
    const incoming: Incoming = {
      conversation: 'kitchen',
      from: { id: line.by ?? 'u1', role: line.role ?? role },
      id: null,
      at: line.at ?? null,
      said,
    };
    const turned = turn(knowledge, state, incoming, {
      now: AT,
      newId: () => `e${(ids += 1)}`,
      caseId: CODE,
      contact: 'call the shop',
      greeted: true,
      pagePath: null,
      notes: [],
    });
    state = turned.state;
    events = [...events, ...turned.events];
    return turned.answer;
  };
  return {
    says: (text, line) => send({ kind: 'text', text }, line),
    answers: (finding, value, line) => send({ kind: 'answer', finding, value }, line),
    measures: (reading, line) => send({ kind: 'reading', reading }, line),
    polls: () => send({ kind: 'poll' }),
    state: () => state,
    events: () => events,
  };
}

/** An example of the knowledge folder that says this value and nothing else; never one that the folder has not. */
export function wordsFor(finding: string, value: string): string {
  const examples = knowledge.findings.get(finding)?.says[value]?.examples ?? [];
  const plain = examples.find((text) => {
    const { understood, hazards, ask } = talk().says(text);
    const [only] = understood;
    return (
      understood.length === 1 &&
      only?.finding === finding &&
      only.value === value &&
      !only.denied &&
      hazards.length === 0 &&
      ask !== null
    );
  });
  if (plain === undefined) throw new Error(`no example says ${finding} ${value} and nothing else`);
  return plain;
}

/** An example of a hazard that raises it alone, for this role. */
export function dangerOf(hazard: string, role: Role = 'homeowner'): string {
  const plain = knowledge.hazards.get(hazard)?.examples.find((text) => {
    const { hazards } = talk(role).says(text);
    return (
      hazards.length === 1 &&
      hazards[0]?.hazard === hazard &&
      hazards[0].level === (knowledge.hazards.get(hazard)?.level ?? '')
    );
  });
  if (plain === undefined) throw new Error(`no example raises ${hazard} alone`);
  return plain;
}

/** What was asked: a finding, a reading, something about the talk, or nothing. */
export const askedOf = ({ ask }: Answer): string | null =>
  ask ? (ask.finding ?? ask.reading ?? 'about the talk') : null;
