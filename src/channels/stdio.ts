/**
 * Carries messages between the outside and a conversation. A channel knows its own manners and nothing of freezers.
 *
 * This file: JSON lines, exactly one out for each one in, in order; an answer is written only when the case is stored.
 * It needs no fair queue: the front end is trusted, the order of its lines is part of the contract, and the next line is
 * read only when the one before is answered, so that nothing piles up here.
 */
import { readLine, type Incoming, type InvalidInput } from '../message/incoming.js';
import type { Answer } from '../message/outgoing.js';
import { brief, readJson } from './json-line.js';
import { linesOf } from './lines.js';

const LONGEST_LINE = 64 * 1024;

export type Handle = (
  incoming: Incoming,
) => { readonly ok: true; readonly answer: Answer } | { readonly ok: false; readonly error: InvalidInput };

/** Runs until the input ends. False when the store gave out; the line that met it got its error. */
export async function runStdio(
  input: AsyncIterable<Uint8Array>,
  write: (line: string) => Promise<void>,
  handle: Handle,
  onStoreTrouble: (error: unknown) => string,
): Promise<boolean> {
  for await (const line of linesOf(input, LONGEST_LINE)) {
    const read = 'trouble' in line ? { ok: false as const, error: TROUBLES[line.trouble] } : parse(line.text);
    if (!read.ok) {
      await write(errorLine('invalid-input', read.error));
      continue;
    }
    let handled: ReturnType<Handle>;
    try {
      handled = handle(read.incoming);
    } catch (error) {
      await write(errorLine('store-unavailable', { field: '', message: onStoreTrouble(error) }));
      return false;
    }
    await write(handled.ok ? `${JSON.stringify(handled.answer)}\n` : errorLine('invalid-input', handled.error));
  }
  return true;
}

const TROUBLES = {
  'too-long': { field: '', message: `a line may have ${LONGEST_LINE} bytes at the most` },
  'not-utf-8': { field: '', message: 'not readable as UTF-8' },
} as const;

function parse(line: string): ReturnType<typeof readLine> {
  const read = readJson(line);
  return read.ok ? readLine(read.data) : read;
}

const errorLine = (code: 'invalid-input' | 'store-unavailable', error: InvalidInput): string =>
  `${JSON.stringify({ error: { code, field: brief(error.field), message: error.message } })}\n`;
