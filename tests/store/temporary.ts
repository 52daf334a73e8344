/** Files of a test, in a folder that is gone when the test file ends. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';

/** Call once a test file; each call of the result names a new file that is not there yet. */
export function temporaryFiles(): () => string {
  const folder = mkdtempSync(join(tmpdir(), 'thawline-store-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  let files = 0;
  return () => join(folder, `${(files += 1)}.db`);
}
