/** `thawline chat`: the talk in the terminal. Opens a case, or takes one up again. */
import { randomUUID } from 'node:crypto';
import { parseArgs } from 'node:util';
import { plainScreen } from '../channels/plain.js';
import { png } from '../channels/png.js';
import { runTerminal, type Screen } from '../channels/terminal.js';
import type { Conversations } from '../conversation.js';
import { wordsFor, type Knowledge, type Role } from '../knowledge/facts.js';
import { MAX_TEXT, type Incoming } from '../message/incoming.js';
import type { Answer } from '../message/outgoing.js';
import type { NamedPicture } from '../pictures/picture.js';
import { say } from '../reply/say.js';
import type { Store } from '../store/store.js';
import { UsageProblem } from './problem.js';
import { writeWhole } from './case-files.js';
import { wire } from './parts.js';
import { keepNoLonger } from './retention.js';
import { readSettings } from './settings.js';

export const help = `thawline chat [--role homeowner|technician] [--case CODE] [--db FILE]
  The talk in the terminal. Without --case it offers the cases that are open, or opens a new one.`;

const CHANNEL = 'terminal';
const NEW = 'new-case';

export async function run(args: string[]): Promise<number> {
  const { values } = parseArgs({
    args,
    options: { role: { type: 'string' }, case: { type: 'string' }, db: { type: 'string' } },
  });
  if (values.role !== undefined && values.role !== 'homeowner' && values.role !== 'technician')
    throw new UsageProblem(`"${values.role}" is no role here: homeowner or technician`);
  const settings = readSettings(values.db);
  let drawn = Promise.resolve();
  const onPicture = (path: string, { svg }: NamedPicture): void => {
    drawn = png(svg)
      .then((image) => writeWhole(path, image))
      .catch((error: unknown) => void process.stderr.write(`${path} could not be written: ${String(error)}\n`));
  };
  const parts = wire(settings, CHANNEL, { greeted: true, onPicture });
  const { knowledge, store, conversations } = parts;
  keepNoLonger(parts, settings.keepDays);
  conversations.deliver();
  conversations.fallDue();
  const full = process.stdin.isTTY && process.stdout.isTTY;
  const words = (key: string, slots = {}): string => say(knowledge, 'homeowner', key, slots);
  const plain = full ? null : plainScreen(process.stdin, process.stdout);
  const screen: Screen =
    plain ??
    (await import('../channels/prompt.js')).promptScreen(process.stdin, process.stdout, {
      hint: words('terminal.hint'),
      empty: words('terminal.empty'),
    });
  try {
    const role: Role | null = (values.role as Role | undefined) ?? (full ? await askRole(screen, words) : 'homeowner');
    if (role === null) return 0;
    const chosen = values.case ?? (full ? await askCase(screen, store, words) : NEW);
    if (chosen === null) return 0;
    const from = { id: 'terminal', role } as const;
    const taken = chosen === NEW ? { conversation: randomUUID(), last: null } : takeUp(store, chosen);
    const talk = { ...taken, last: taken.last && (newsIn(conversations, taken.conversation, from) ?? taken.last) };
    screen.show(
      talk.last
        ? `${say(knowledge, wordsFor(role), 'terminal.taken-up', { code: talk.conversation })}\n\n${talk.last.reply}`
        : greeting(knowledge, role, settings.contact),
    );
    const handle = async (incoming: Incoming): Promise<ReturnType<Conversations['handle']>> => {
      const handled = conversations.handle(incoming);
      // the answer tells where the picture is: first it has to be there
      await drawn;
      return handled;
    };
    const tooLong = say(knowledge, wordsFor(role), 'terminal.too-long', { most: MAX_TEXT });
    const code = await runTerminal(screen, { ...talk, from }, handle, tooLong);
    if (code) screen.show(say(knowledge, wordsFor(role), 'goodbye', { code }));
    return 0;
  } finally {
    plain?.close();
    store.close();
  }
}

function greeting(knowledge: Knowledge, role: Role, contact: string | null): string {
  const words = wordsFor(role);
  const person = say(knowledge, words, 'reach-a-person', { contact: contact ?? '' });
  return `${say(knowledge, words, 'first-words', { person })}\n\n${say(knowledge, words, 'describe')}`;
}

type Words = (key: string, slots?: Record<string, string>) => string;

async function askRole(screen: Screen, words: Words): Promise<Role | null> {
  screen.show(words('terminal.who'));
  const roles = ['homeowner', 'technician'] as const;
  for (;;) {
    const input = await screen.ask(roles.map((value) => ({ value, label: words(`terminal.role.${value}`) })));
    if (input === null) return null;
    const said = 'chosen' in input ? input.chosen : input.typed.trim().toLowerCase();
    const role = roles.find((r, i) => said === r || said === String(i + 1) || r.startsWith(said.slice(0, 4)));
    if (role) return role;
    screen.show(words('terminal.empty'));
  }
}

async function askCase(screen: Screen, store: Store, words: Words): Promise<string | null> {
  const open = store.openCases(CHANNEL).slice(0, 8);
  if (open.length === 0) return NEW;
  screen.show(words('terminal.open-cases'));
  const choices = [
    ...open.map((c) => ({
      value: c.caseId,
      label: words('terminal.open-case', { code: c.caseId, when: c.updatedAt.slice(0, 16).replace('T', ' ') }),
    })),
    { value: NEW, label: words('terminal.new-case') },
  ];
  for (;;) {
    const input = await screen.ask(choices);
    if (input === null) return null;
    const said = 'chosen' in input ? input.chosen : input.typed.trim();
    const found = choices.find((c, i) => said === String(i + 1) || said.toUpperCase() === c.value.toUpperCase());
    if (found) return found.value;
    screen.show(words('terminal.empty'));
  }
}

/** What waited for this person in a case that is taken up again; null where nothing did. */
function newsIn(conversations: Conversations, conversation: string, from: Incoming['from']): Answer | null {
  const handled = conversations.handle({ conversation, from, id: null, at: null, said: { kind: 'poll' } });
  return handled.ok && handled.answer.notes.length > 0 ? handled.answer : null;
}

/** A case by its take-up code; from then on this terminal speaks in it. */
function takeUp(store: Store, given: string): { conversation: string; last: Answer | null } {
  const code = given.trim().toUpperCase();
  if (!store.load(code)) throw new UsageProblem(`no case has the code ${given}`);
  store.join(CHANNEL, code, code);
  return { conversation: code, last: store.lastAnswer(code) };
}
