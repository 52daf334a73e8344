/** The same talk where there is no terminal: plain lines in, plain lines out, choices with their numbers. */
import { createInterface } from 'node:readline';
import type { Readable, Writable } from 'node:stream';
import { shown, shownInLine } from '../message/shown.js';
import type { Screen } from './terminal.js';

export function plainScreen(input: Readable, output: Writable): Screen & { readonly close: () => void } {
  const lines = createInterface({ input, crlfDelay: Infinity });
  const next = lines[Symbol.asyncIterator]();
  return {
    show: (text) => void output.write(`${shown(text)}\n`),
    async ask(choices) {
      choices.forEach((c, i) => output.write(`  ${i + 1}. ${shownInLine(c.label)}\n`));
      output.write('\n');
      const { value, done } = await next.next();
      return done ? null : { typed: value };
    },
    close: () => lines.close(),
  };
}
