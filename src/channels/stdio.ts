/**
 * Carries messages between the outside and a conversation. A channel knows its own manners and nothing of freezers.
 *
 * This file: JSON lines, exactly one out for each one in, in order; an answer is written only when the case is stored.
 */
import { readLine, type Incoming, type InvalidInput } from '../message/incoming.js';
import type { Answer } from '../message/outgoing.js';
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
    const read = line === null ? tooLong : parse(line);
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

const tooLong = {
  ok: false,
  error: { field: '', message: `a line may have ${LONGEST_LINE} bytes at the most` },
} as const;

function parse(line: string): ReturnType<typeof readLine> {
  if (line.trim() === '')
    return { ok: false, error: { field: '', message: 'an empty line; expected one JSON object' } };
  let data: unknown;
  try {
    data = JSON.parse(line);
  } catch {
    return { ok: false, error: { field: '', message: 'not readable as JSON' } };
  }
  return readLine(data);
}

const errorLine = (code: 'invalid-input' | 'store-unavailable', error: InvalidInput): string =>
  `${JSON.stringify({ error: { code, ...error } })}\n`;
