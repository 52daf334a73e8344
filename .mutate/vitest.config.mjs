// The tests that a mutant meets: those of its own room.
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const room = process.env['THAWLINE_MUTATE'] ?? 'safety';

export default defineConfig({
  resolve: {
    alias: [
      { find: /^\.\.\/support\/knowledge\.js$/, replacement: fileURLToPath(new URL('knowledge.mjs', import.meta.url)) },
    ],
  },
  test: {
    setupFiles: [fileURLToPath(new URL('warm.mjs', import.meta.url))],
    include: [`tests/${room}/**/*.test.ts`],
    pool: 'threads',
    isolate: false,
    testTimeout: 120_000,
  },
});
