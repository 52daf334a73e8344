/** One prompt for a real terminal: arrows move over the choices, typed words win over them, Ctrl-C leaves safely. */
import { isCancel, Prompt } from '@clack/core';
import type { Readable, Writable } from 'node:stream';
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
    show: (text) => void output.write(`\n${text}\n\n`),
    async ask(choices) {
      let at = -1;
      const prompt = new Prompt<string>(
        {
          input,
          output,
          validate: (value) => (!value?.trim() && at < 0 ? words.empty : undefined),
          render() {
            const typed = this.userInput;
            if (this.state === 'submit') return `${DIM}> ${typed || (choices[at]?.label ?? '')}${PLAIN}`;
            if (this.state === 'cancel') return '';
            const lines = choices.map((c, i) =>
              i === at ? `${BRIGHT}> ${i + 1}. ${c.label}${PLAIN}` : `  ${i + 1}. ${c.label}`,
            );
            const note = this.state === 'error' ? this.error : choices.length ? words.hint : '';
            return [...lines, ...(note ? [`${DIM}${note}${PLAIN}`] : []), `> ${typed}\u2588`].join('\n');
          },
        },
        true,
      );
      prompt.on('cursor', (action) => {
        if (choices.length === 0) return;
        if (action === 'up') at = at <= 0 ? choices.length - 1 : at - 1;
        if (action === 'down') at = (at + 1) % choices.length;
      });
      prompt.on('userInput', (text) => {
        if (text) at = -1;
      });
      const value = await prompt.prompt();
      if (isCancel(value)) return null;
      const typed = (value ?? '').trim();
      const chosen = choices[at];
      return typed || !chosen ? { typed } : { chosen: chosen.value };
    },
  };
}
