/** One invented caller from the first words to the end, by the turn itself; no store, no channel. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { parse } from 'yaml';
import { newCase } from '../../src/case/state.js';
import type { Knowledge } from '../../src/knowledge/facts.js';
import type { Incoming, ReadingIn, Said } from '../../src/message/incoming.js';
import type { Answer } from '../../src/message/outgoing.js';
import { turn } from '../../src/turn.js';

export interface Caller {
  readonly id: string;
  readonly role: 'homeowner' | 'technician';
  readonly truth: readonly string[];
  readonly system: string;
  readonly expect: 'repair' | 'visit' | 'licensed' | 'hazard' | 'monitor';
  readonly hazard: string | null;
  readonly tricky: boolean;
  readonly note: string;
  readonly opening: string;
  readonly 'opening-means': Readonly<Record<string, string | string[]>>;
  readonly answers: Readonly<Record<string, string | string[]>>;
  readonly readings?: Readonly<Record<string, Omit<ReadingIn, 'part' | 'quantity'>>>;
}

export interface Outcome {
  readonly caller: Caller;
  readonly last: Answer;
  readonly answers: readonly Answer[];
  readonly questions: number;
  readonly asked: readonly string[];
}

export function callers(file: string): Caller[] {
  return parse(readFileSync(fileURLToPath(new URL(file, import.meta.url)), 'utf8')) as Caller[];
}

const MOST = 30;

/** `words`: the opening in the caller's own words; otherwise what they carry is given as answers. */
export function simulate(knowledge: Knowledge, caller: Caller, words: boolean): Outcome {
  let clock = Date.parse('2026-03-02T18:30:00Z');
  let id = 0;
  let state = newCase(new Date(clock).toISOString(), caller.role);
  const answers: Answer[] = [];
  const send = (said: Said): Answer => {
    clock += 60_000;
    const incoming: Incoming = {
      conversation: caller.id,
      from: { id: caller.id, role: caller.role },
      id: null,
      at: new Date(clock).toISOString(),
      said,
    };
    const turned = turn(knowledge, state, incoming, {
      caseId: 'TESTCASE',
      now: new Date(clock).toISOString(),
      newId: () => `e${(id += 1)}`,
      contact: null,
      greeted: false,
      pagePath: null,
      notes: [],
    });
    state = turned.state;
    answers.push(turned.answer);
    return turned.answer;
  };
  let last = send({ kind: 'text', text: caller.opening });
  if (!words)
    for (const [finding, value] of Object.entries(caller['opening-means']))
      if (knowledge.findings.has(finding)) last = send({ kind: 'answer', finding, value });
  const asked: string[] = [];
  while (last.ask && !last.conclusion && asked.length < MOST) {
    const step = last.ask.finding ?? last.ask.reading;
    asked.push(step ?? 'talk');
    last = send(step === null ? { kind: 'text', text: 'no' } : reply(caller, step));
  }
  return { caller, last, answers, questions: asked.length, asked };
}

function reply(caller: Caller, step: string): Said {
  const value = caller.answers[step];
  if (value !== undefined) return { kind: 'answer', finding: step, value };
  const reading = caller.readings?.[step];
  if (!reading) return { kind: 'answer', finding: step, value: 'not-sure' };
  const dot = step.lastIndexOf('.');
  return {
    kind: 'reading',
    reading: { part: step.slice(0, dot), quantity: step.slice(dot + 1) as ReadingIn['quantity'], ...reading },
  };
}
