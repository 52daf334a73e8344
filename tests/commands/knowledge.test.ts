// The check of the folder by its command, as far as no other test sees it.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test, vi } from 'vitest';
import { run } from '../../src/commands/knowledge.js';
import { realTexts } from '../support/knowledge.js';

const folder = mkdtempSync(join(tmpdir(), 'thawline-knowledge-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

test('what a judge lacks in a reading is told with the file, the line of its quantity and the mend', async () => {
  const path = 'readings/room.yaml';
  const text = realTexts().find((t) => t.path === path)?.text ?? '';
  mkdirSync(join(folder, 'readings'));
  writeFileSync(join(folder, path), text.replace('      gap-flow: {', '      gap-flaw: {'));
  const line = text.split('\n').indexOf('  relative-humidity:') + 1;
  const err = vi.spyOn(process.stderr, 'write').mockImplementation(() => true);
  const out = vi.spyOn(process.stdout, 'write').mockImplementation(() => true);
  try {
    expect(await run([folder, '--quiet'])).toBe(2);
    const said = err.mock.calls.map(([words]) => String(words));
    expect(said).toContain(
      `${folder}/${path}:${line}: relative-humidity: the number "gap-flow" is missing. Add values.gap-flow in m3/h.\n`,
    );
    expect(said).toContain(
      `${folder}/${path}:${line}: relative-humidity: no judge reads the number "gap-flaw". Remove it, or correct its name.\n`,
    );
    expect(out).not.toHaveBeenCalled();
  } finally {
    err.mockRestore();
    out.mockRestore();
  }
});
