/** How often a text stands in the bytes of the store's file and its log, as it is or as JSON writes it. */
import { closeSync, existsSync, openSync, readSync } from 'node:fs';

const CHUNK = 1 << 20;

export function occurrences(path: string, text: string): number {
  const forms = new Set([text, JSON.stringify(text).slice(1, -1)]);
  const files = [path, `${path}-wal`].filter((file) => existsSync(file));
  return files.reduce((sum, file) => sum + [...forms].reduce((n, form) => n + inFile(file, Buffer.from(form)), 0), 0);
}

/** A piece at a time; what a border cuts is seen with the next piece. */
function inFile(path: string, text: Buffer): number {
  const file = openSync(path, 'r');
  try {
    let kept = Buffer.alloc(0);
    let found = 0;
    for (;;) {
      const piece = Buffer.alloc(CHUNK);
      const length = readSync(file, piece);
      if (length === 0) return found;
      const bytes = Buffer.concat([kept, piece.subarray(0, length)]);
      for (let at = bytes.indexOf(text); at >= 0; at = bytes.indexOf(text, at + 1)) found += 1;
      kept = bytes.subarray(Math.max(0, bytes.length - text.length + 1));
    }
  } finally {
    closeSync(file);
  }
}
