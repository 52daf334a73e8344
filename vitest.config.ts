import { defineConfig } from 'vitest/config';

// Most tests share threads without isolation, for speed: no test may leave anything behind in a module.
// Tests that start processes of their own run apart, two files at a time.
export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: 'unit',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/process/**'],
          pool: 'threads',
          isolate: false,
          testTimeout: 120_000,
          hookTimeout: 120_000,
          sequence: { groupOrder: 0 },
        },
      },
      {
        test: {
          name: 'process',
          include: ['tests/process/**/*.test.ts'],
          pool: 'forks',
          maxWorkers: 2,
          testTimeout: 120_000,
          hookTimeout: 120_000,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
