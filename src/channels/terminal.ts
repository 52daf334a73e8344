/** A talk in the terminal: shows a reply with its choices, takes arrows, a number or typed words, whichever comes. */
import { MAX_TEXT, type Incoming, type Said } from '../message/incoming.js';
import type { Answer } from '../message/outgoing.js';
import type { Handle } from './stdio.js';

/** How a terminal shows and asks; a full-screen one takes arrows, a pipe only lines. */
export interface Screen {
  readonly show: (text: string) => void;
  /** what was typed or chosen; null when the person leaves */
  readonly ask: (choices: readonly Choice[]) => Promise<Input | null>;
}
interface Choice {
  readonly value: string;
  readonly label: string;
}
type Input = { readonly typed: string } | { readonly chosen: string };

export interface Talk {
  readonly conversation: string;
  readonly from: Incoming['from'];
  /** the last answer, when a case is taken up again */
  readonly last: Answer | null;
}

/** Runs until the person leaves; every answer shown is stored already. Returns the case's code once there is one. */
export async function runTerminal(
  screen: Screen,
  talk: Talk,
  handle: (incoming: Incoming) => Promise<ReturnType<Handle>>,
  /** what is said to a text that is too long to be read */
  tooLong: string,
): Promise<string | null> {
  let answer = talk.last;
  for (;;) {
    const input = await screen.ask(answer?.ask?.choices ?? []);
    if (input === null) return answer?.caseId ?? null;
    const said = saidBy(input, answer);
    if (said === null) continue;
    if (said.kind === 'text' && said.text.length > MAX_TEXT) {
      screen.show(tooLong);
      continue;
    }
    const handled = await handle({ conversation: talk.conversation, from: talk.from, id: null, at: null, said });
    if (handled.ok) {
      answer = handled.answer;
      screen.show(answer.reply);
    } else screen.show(handled.error.message);
  }
}

function saidBy(input: Input, answer: Answer | null): Said | null {
  if ('typed' in input) {
    const text = input.typed.trim().toWellFormed();
    return text ? { kind: 'text', text } : null;
  }
  const step = answer?.ask?.finding ?? answer?.ask?.reading;
  return step ? { kind: 'answer', finding: step, value: input.chosen } : { kind: 'text', text: input.chosen };
}
