/** `thawline desk`: the senior technician's worklist, on the same store while people go on talking. */
import { userInfo } from 'node:os';
import { parseArgs } from 'node:util';
import type { Act } from '../desk/act.js';
import { shown } from '../message/shown.js';
import { runBoard } from './desk-board.js';
import { Office } from './desk-office.js';
import { refusalLine, sayer, workLine } from './desk-words.js';
import { wire, type Parts } from './parts.js';
import { UsageProblem } from './problem.js';
import { readSettings } from './settings.js';

export const help = `thawline desk                      the list, on a terminal to pick from
thawline desk list                 by urgency and age
thawline desk show CASE            the page, and what was done at the desk
thawline desk claim CASE
thawline desk ask CASE TEXT        the caller reads it, the answer comes back here
thawline desk hand-back CASE [TEXT]
thawline desk clear CASE HAZARD    on site, by the one who claimed it
thawline desk close CASE --cause FAULT [--fixed TEXT] [--parts TEXT]
                                   FAULT: a cause of the knowledge folder, something-else or not-found
  [--as NAME] [--json] [--db FILE]; NAME is told to the caller, else it is the name of this machine's user.
  Exit code 1 where somebody else has the case, or the act is not possible now.`;

const options = {
  as: { type: 'string' },
  json: { type: 'boolean' },
  db: { type: 'string' },
  cause: { type: 'string' },
  fixed: { type: 'string' },
  parts: { type: 'string' },
} as const;

interface Given {
  readonly cause?: string | undefined;
  readonly fixed?: string | undefined;
  readonly parts?: string | undefined;
}

const ACTS: Readonly<Record<string, (text: string, given: Given) => Act>> = {
  claim: (text) => (none(text, 'claim'), { act: 'claim' }),
  ask: (text) => ({ act: 'ask', text: line(text, 'write what to ask: thawline desk ask CASE TEXT') }),
  'hand-back': (text) => ({ act: 'hand-back', text: text === '' ? null : line(text, '') }),
  clear: (text) => ({ act: 'clear', hazard: line(text, 'name the hazard: thawline desk clear CASE HAZARD') }),
  close: (text, { cause, fixed, parts }) => {
    none(text, 'close');
    if (!cause) throw new UsageProblem('name the confirmed cause: thawline desk close CASE --cause FAULT');
    return { act: 'close', cause, fixed: fixed ? line(fixed, '') : null, parts: parts ? line(parts, '') : null };
  },
};

export async function run(args: string[]): Promise<number> {
  const { values, positionals } = parseArgs({ args, options, allowPositionals: true });
  const [word, given, ...rest] = positionals;
  const make = word === undefined ? undefined : ACTS[word];
  if (word !== undefined && word !== 'list' && word !== 'show' && !make)
    throw new UsageProblem(`"${word}" is nothing the desk does: list, show, ${Object.keys(ACTS).join(', ')}`);
  if ((word === 'show' || make) && !given) throw new UsageProblem(`name the case: thawline desk ${word} CASE`);
  const act = make?.(rest.join(' ').trim(), values);
  const by = nameOf(values.as ?? userInfo().username);
  const parts = wire(readSettings(values.db), 'desk');
  try {
    const desk = { parts, office: new Office(parts, () => new Date()), json: values.json ?? false };
    const code = (given ?? '').toUpperCase();
    if (act) return perform(desk, code, act, by);
    if (word === 'show') return show(desk, code);
    if (word === undefined && !desk.json && process.stdin.isTTY && process.stdout.isTTY)
      return await runBoard(parts.knowledge, desk.office, by, process.stdin, process.stdout);
    return listAll(desk);
  } finally {
    parts.store.close();
  }
}

interface Desk {
  readonly parts: Parts;
  readonly office: Office;
  readonly json: boolean;
}

function listAll({ parts, office, json }: Desk): number {
  const words = sayer(parts.knowledge);
  for (const reminder of office.reminders()) process.stderr.write(`${reminder}\n`);
  const work = office.list();
  const situation = (caseId: string): string => office.open(caseId)?.escalation.situation ?? '';
  if (json)
    print(
      work.map(({ caseId, escalation }) => ({ caseId, ...escalation, situation: situation(caseId) })),
      true,
    );
  else if (work.length === 0) print(words('desk.nothing'), false);
  else for (const w of work) print(`${workLine(words, w, new Date())}\n    ${situation(w.caseId)}`, false);
  return 0;
}

function show({ office, json }: Desk, code: string): number {
  const one = office.open(code);
  if (!one) throw unknownCase(code);
  print(json ? { escalation: one.escalation, history: one.history } : one.text.trimEnd(), json);
  return 0;
}

/** The same whether there is no such case or it was never handed over: the desk learns nothing of it. */
const unknownCase = (code: string): UsageProblem => new UsageProblem(`no case with the code ${code} was handed over`);

function perform({ parts, office, json }: Desk, code: string, act: Act, by: string): number {
  const { knowledge, store } = parts;
  const worked = office.act(code, act, by);
  if (worked.ok) {
    const escalation = office.open(code)?.escalation ?? null;
    print(json ? { ok: true, escalation } : sayer(knowledge)(`desk.acted.${act.act}`, { code }), json);
    return 0;
  }
  const { refusal } = worked;
  if (refusal.why === 'no-case') throw unknownCase(code);
  const state = store.load(code);
  const standing = (state?.hazards ?? []).filter((h) => !h.cleared).map((h) => h.hazard);
  const why = refusalLine(knowledge, code, refusal, state?.escalation ?? null, standing);
  if (json) print({ ok: false, ...refusal }, true);
  process.stderr.write(`thawline: ${shown(why)}\n`);
  return refusal.why === 'unknown-cause' || refusal.why === 'unknown-hazard' ? 2 : 1;
}

function print(data: unknown, json: boolean): void {
  process.stdout.write(`${json ? JSON.stringify(data, null, 2) : shown(String(data))}\n`);
}

const LONGEST = 1000;
const LONGEST_NAME = 60;

/** A person's own words: not empty, not endless, no control signs. */
function line(text: string, mend: string): string {
  const clean = text.replaceAll(/[\p{Cc}\p{Cf}]+/gu, ' ').trim();
  if (clean === '') throw new UsageProblem(mend || 'an empty text says nothing: leave it out');
  if (clean.length > LONGEST) throw new UsageProblem(`a text may have ${LONGEST} characters at the most`);
  return clean;
}

function nameOf(given: string): string {
  const name = line(given, 'name yourself: --as NAME');
  if (name.length > LONGEST_NAME) throw new UsageProblem(`a name may have ${LONGEST_NAME} characters at the most`);
  return name;
}

function none(text: string, word: string): void {
  if (text !== '') throw new UsageProblem(`"${text}" is too much: thawline desk ${word} CASE`);
}
