import { writeFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { occurrences } from '../../src/store/search.js';
import { temporaryFiles } from './temporary.js';

const newFile = temporaryFiles();

it('finds a text in the file and its log, as it is and as JSON writes it, also where two pieces meet', () => {
  const path = newFile();
  const PIECE = 1 << 20;
  const bytes = Buffer.alloc(2 * PIECE + 100, 0x2e);
  bytes.write('owner-4711', 0);
  bytes.write('owner-4711', PIECE - 4);
  bytes.write('owner-4711', 2 * PIECE - 9);
  bytes.write('owner-4711', bytes.length - 10);
  writeFileSync(path, bytes);
  expect(occurrences(path, 'owner-4711')).toBe(4);
  expect(occurrences(path, 'owner-4712')).toBe(0);
  writeFileSync(`${path}-wal`, '{"text":"the \\"blue\\" door"} owner-4711');
  expect(occurrences(path, 'owner-4711')).toBe(5);
  expect(occurrences(path, 'the "blue" door')).toBe(1);
});
