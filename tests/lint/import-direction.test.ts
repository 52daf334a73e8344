// Lint refuses what the house rules forbid. Each file under bad/src breaks one rule in one way, but for those listed as
// good; a file there that is not listed here fails the test, so that no case can go unproved.

import { execFile } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';

const root = fileURLToPath(new URL('../..', import.meta.url));
const bad = 'tests/lint/bad/src';

const refused: Record<string, Record<string, string>> = {
  'house(import-direction)': {
    'physics/value-import.ts': "'physics' may not use 'knowledge'",
    'physics/type-import.ts': "'physics' may not use 'knowledge'",
    'physics/inline-type-import.ts': "'physics' may not use 'knowledge'",
    'physics/typeof-import.ts': "'physics' may not use 'knowledge'",
    'physics/side-effect-import.ts': "'physics' may not use 'knowledge'",
    'physics/named-re-export.ts': "'physics' may not use 'knowledge'",
    'physics/type-re-export.ts': "'physics' may not use 'knowledge'",
    'physics/star-re-export.ts': "'physics' may not use 'knowledge'",
    'physics/dynamic-import.ts': "'physics' may not use 'knowledge'",
    'physics/template-import.ts': 'whose path is computed',
    'safety/stop-uses-stop.ts': "'safety' may not use 'diagnosis'",
    'readings/leaves-src.ts': 'is outside src/',
    'kitchen/unknown-room.ts': "'kitchen' is not a room",
    'message/node-import.ts': "'node:fs' is used only in",
    'message/bare-node-import.ts': "'path' is used only in",
    'message/crypto-import.ts': "'node:crypto' is used only in",
    'message/sqlite-import.ts': "'better-sqlite3' is used only in",
    'message/discord-import.ts': "'discord.js' is used only in",
    'knowledge/second-file-opener.ts': "'node:fs' is used only in",
  },
  'house(no-ambient-clock)': {
    'message/new-date.ts': 'This reads the clock',
    'message/date-call.ts': 'This reads the clock',
  },
  'eslint(no-restricted-properties)': {
    'message/date-now.ts': 'Date.now',
    'message/date-now-taken-apart.ts': 'Date.now',
    'message/math-random.ts': 'Math.random',
    'message/math-random-taken-apart.ts': 'Math.random',
  },
  'eslint(no-restricted-globals)': {
    'message/performance-now.ts': 'performance',
    'message/crypto-global.ts': 'crypto',
    'message/global-this.ts': 'globalThis',
    'message/process-global.ts': 'process',
  },
  'eslint(no-restricted-imports)': { 'message/natural-root.ts': 'natural' },
  'import(no-cycle)': { 'message/cycle-one.ts': 'cycle', 'message/cycle-two.ts': 'cycle' },
  'typescript(no-floating-promises)': { 'message/floating-promise.ts': 'Promises must be awaited' },
  'typescript(switch-exhaustiveness-check)': { 'message/missing-case.ts': 'not exhaustive' },
  'typescript(no-explicit-any)': { 'message/explicit-any.ts': 'any' },
};

const good = ['case/good.ts', 'diagnosis/rank.ts', 'knowledge/files.ts', 'knowledge/good.ts', 'store/good.ts'];

const Report = z.object({
  diagnostics: z.array(z.object({ filename: z.string(), code: z.string(), message: z.string(), severity: z.string() })),
});

describe('lint', () => {
  let found: z.infer<typeof Report>['diagnostics'] = [];
  const against = (file: string) => found.filter(({ filename }) => filename === `${bad}/${file}`);

  beforeAll(async () => {
    const oxlint = promisify(execFile)('node_modules/.bin/oxlint', ['-c', 'oxlint.config.mjs', '-f', 'json', bad], {
      cwd: root,
    });
    // It finds mistakes here, so it exits with 1 and still prints its report.
    const report = await oxlint.catch((failed: { stdout: string }) => failed);
    found = Report.parse(JSON.parse(report.stdout)).diagnostics;
  });

  for (const [rule, files] of Object.entries(refused)) {
    it.each(Object.entries(files))(`refuses, by ${rule}, %s`, (file, words) => {
      const errors = against(file).filter(({ code, severity }) => code === rule && severity === 'error');
      expect(errors.map(({ message }) => message)).toEqual([expect.stringContaining(words)]);
    });
  }

  it.each(good)('has nothing against %s', (file) => {
    expect(against(file)).toEqual([]);
  });

  it('is tried on every file of the bad folder', () => {
    const files = readdirSync(`${root}/${bad}`, { recursive: true, encoding: 'utf8' }).filter((name) =>
      name.endsWith('.ts'),
    );
    expect(files.toSorted()).toEqual([...Object.values(refused).flatMap(Object.keys), ...good].toSorted());
  });
});
