// Lines that are made to hurt: each gets one clear error, and the next line is answered.

import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { readJson } from '../../src/channels/json-line.js';
import { runStdio } from '../../src/channels/stdio.js';
import { lineOut, type Answer } from '../../src/message/outgoing.js';
import { runs, tried } from '../support/runs.js';

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
const plain = '{"case":"k1","from":{"id":"u1","role":"homeowner"},"text":"frost"}';
const withKey = (key: string): string => plain.replace('"text"', `${key},"text"`);

async function answersTo(...lines: readonly (string | Uint8Array)[]): Promise<{ error?: { message: string } }[]> {
  async function* input(): AsyncGenerator<Uint8Array> {
    for (const line of lines) {
      await Promise.resolve();
      yield typeof line === 'string' ? bytes(`${line}\n`) : line;
    }
  }
  const out: string[] = [];
  const write = (line: string): Promise<void> => Promise.resolve(void out.push(line));
  const answer = { case: 'k1' } as unknown as Answer;
  expect(await runStdio(input(), write, () => ({ ok: true, answer }), String)).toBe(true);
  return out.map((line) => JSON.parse(line) as { error?: { message: string } });
}

const hostile: readonly [string, string | Uint8Array, string][] = [
  ['a thousand opening brackets', '['.repeat(1000), 'not readable as JSON'],
  ['60,000 brackets, closed', '['.repeat(30_000) + ']'.repeat(30_000), 'nested deeper than 16'],
  ['objects in objects', withKey(`"x":${'{"a":'.repeat(5000)}1${'}'.repeat(5000)}`), 'nested deeper than 16'],
  ['a line over 64 KiB', plain.replace('frost', 'x'.repeat(65_536)), '65536 bytes'],
  ['a key of 60,000 letters', withKey(`"${'k'.repeat(60_000)}":1`), 'unknown key'],
  ['5,000 unknown keys', withKey(Array.from({ length: 5000 }, (_, i) => `"k${i}":1`).join()), 'unknown key'],
  ['the same key twice', withKey('"case":"k2"'), 'twice'],
  ['the same key twice, written in two ways', withKey('"\\u0063ase":"k2"'), 'twice'],
  ['a role twice', plain.replace('"role"', '"role":"senior","role"'), 'twice'],
  ['__proto__', withKey('"__proto__":{"text":"x"}'), 'unknown key'],
  ['__proto__ alone', '{"__proto__":{"case":"k1","text":"x"}}', 'expected one of text'],
  ['constructor', withKey('"constructor":{"prototype":{}}'), 'unknown key'],
  ['__proto__ inside', plain.replace('"role"', '"__proto__":{"role":"senior"},"role"'), 'unknown key'],
  ['NaN', plain.replace('"text":"frost"', '"reading":{"part":"p","quantity":"voltage","value":NaN}'), 'not readable'],
  ['Infinity', plain.replace('"text":"frost"', '"reading":{"part":"p","quantity":"voltage","value":1e999}'), 'number'],
  ['half a character in the text', plain.replace('frost', '\\ud800'), 'surrogate'],
  ['half a character in a name', plain.replace('k1', 'k\\udfff'), 'surrogate'],
  ['half a character in a key', withKey('"\\ud800":1'), 'surrogate'],
  ['bytes that are no UTF-8', Uint8Array.from([...bytes(plain.slice(0, 12)), 0xff, 0xfe, 10]), 'UTF-8'],
  ['a list', '[]', 'one JSON object'],
  ['a number', '1', 'one JSON object'],
  ['nothing but blanks', '   ', 'empty line'],
  ['two values', `${plain} ${plain}`, 'not readable'],
];

test.each(hostile)('%s', async (_, line, message) => {
  const [refused, next] = await answersTo(line, plain);
  expect(refused?.error?.message).toContain(message);
  expect(JSON.stringify(refused).length).toBeLessThan(600);
  expect(lineOut.safeParse(refused).success).toBe(true);
  expect(next).toEqual({ case: 'k1' });
});

test('whatever is sensible JSON is read as it stands', () => {
  const { numRuns, seed } = runs(1000);
  fc.assert(
    fc.property(fc.jsonValue({ maxDepth: 6, noUnicodeString: false }), (data) => {
      const text = JSON.stringify(data);
      const read = readJson(text);
      if (/\\ud[89a-f]/.test(text)) return;
      expect(read).toEqual({ ok: true, data: JSON.parse(text) as unknown });
    }),
    { numRuns, seed },
  );
  tried('JSON values', numRuns);
});

test('any bytes get exactly one line each', async () => {
  const { numRuns, seed } = runs(300);
  await fc.assert(
    fc.asyncProperty(fc.array(fc.uint8Array({ minLength: 1, maxLength: 60 }), { maxLength: 5 }), async (lines) => {
      const sent = lines.map((line) => Uint8Array.from([...line.map((b) => (b === 10 ? 32 : b)), 10]));
      expect(await answersTo(...sent)).toHaveLength(lines.length);
    }),
    { numRuns, seed },
  );
  tried('streams of any bytes', numRuns);
});
