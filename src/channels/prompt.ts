/** One prompt for a real terminal: arrows move over the choices, typed words win over them, Ctrl-C leaves safely. */
import { isCancel, Prompt, wrapTextWithPrefix } from '@clack/core';
import type { Readable, Writable } from 'node:stream';
import { shown, shownInLine } from '../message/shown.js';
import type { Screen } from './terminal.js';

const BRIGHT = '\u001b[1m';
const DIM = '\u001b[2m';
const PLAIN = '\u001b[0m';

export function promptScreen(
  input: Readable,
  output: Writable,
  words: { readonly hint: string; readonly empty: string },
): Screen {
  return {
    show: (text) => void output.write(`\n${wrapTextWithPrefix(output, shown(text), '')}\n\n`),
    async ask(given) {
      const choices = given.map(({ value, label }) => ({ value, label: shownInLine(label) }));
      let at = -1;
      let typed = '';
      const prompt = new Prompt<string>(
        {
          input,
          output,
          validate: () => (!typed.trim() && at < 0 ? words.empty : undefined),
          render() {
            if (this.state === 'submit') return `${DIM}> ${shown(typed) || (choices[at]?.label ?? '')}${PLAIN}`;
            if (this.state === 'cancel') return '';
            const lines = choices.map((c, i) =>
              i === at ? `${BRIGHT}> ${i + 1}. ${c.label}${PLAIN}` : `  ${i + 1}. ${c.label}`,
            );
            const note = this.state === 'error' ? this.error : choices.length ? words.hint : '';
            return [...lines, ...(note ? [`${DIM}${note}${PLAIN}`] : []), `> ${shown(typed)}\u2588`].join('\n');
          },
        },
        true,
      );
      prompt.on('cursor', (action) => {
        if (choices.length === 0 || typed.trim()) return;
        if (action === 'up') at = at <= 0 ? choices.length - 1 : at - 1;
        if (action === 'down') at = (at + 1) % choices.length;
      });
      prompt.on('userInput', (text) => {
        typed = text;
        if (text.trim()) at = -1;
      });
      // end of input on an empty line leaves like Ctrl-C; left to itself it would end the process with a question open
      prompt.on('key', (_, key) => {
        if (key.ctrl && key.name === 'd' && !typed) prompt.state = 'cancel';
      });
      if (isCancel(await prompt.prompt())) return null;
      const chosen = choices[at];
      return chosen ? { chosen: chosen.value } : { typed };
    },
  };
}
