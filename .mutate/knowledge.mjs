// The knowledge folder for the tests of a mutant: each mutant meets a fresh thread, and reading 260 KB of YAML in each
// would cost more than the tests. No room that is mutated has a hand in it, so the first thread keeps it for the others.
import { existsSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { OWN_FOLDER, hashOf, readFolders } from '../src/knowledge/files.ts';
import { fromRaw, loadKnowledge } from '../src/knowledge/load.ts';

const path = new URL('./kept.json', import.meta.url);
const raw = existsSync(path) ? JSON.parse(readFileSync(path, 'utf8')) : read();
const knowledge = fromRaw(raw, 'mutants');

export const realKnowledge = () => knowledge;

function read() {
  const texts = readFolders(OWN_FOLDER, null);
  const loaded = loadKnowledge(texts, hashOf(texts, 'mutants'));
  if (!loaded.ok) throw new Error('the knowledge folder has mistakes: thawline knowledge');
  const half = new URL('./kept.half', import.meta.url);
  writeFileSync(half, JSON.stringify(loaded.raw));
  renameSync(half, path);
  return loaded.raw;
}
