/**
 * The compiled program in few files: one start then reads a dozen of them instead of four hundred. What has a part of
 * its own outside JavaScript, or is only wanted by the bot, stays where npm put it.
 */
import { readFileSync } from 'node:fs';

const { dependencies } = JSON.parse(readFileSync(new URL('package.json', import.meta.url), 'utf8'));
const TAKEN_IN = ['zod', 'yaml', 'natural', '@clack/core'];

export default {
  input: { main: 'dist/main.js', 'study-worker': 'dist/commands/study-worker.js' },
  platform: 'node',
  external: Object.keys(dependencies).filter((name) => !TAKEN_IN.includes(name)),
  output: {
    dir: 'dist/program',
    format: 'esm',
    entryFileNames: '[name].js',
    chunkFileNames: '[name].js',
    minify: false,
  },
  treeshake: { moduleSideEffects: false },
};
