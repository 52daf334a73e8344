/** The knowledge folder with its overlay, from the cache where nothing has changed. */
import { readFileSync } from 'node:fs';
import type { Knowledge } from '../knowledge/facts.js';
import { cache, hashOf, OWN_FOLDER, readFolders, requireFolder } from '../knowledge/files.js';
import { fromRaw, loadKnowledge, type RawFiles } from '../knowledge/load.js';
import { mistakeLine } from '../knowledge/mistake.js';
import { keepLearnt } from './learnt.js';
import { UsageProblem } from './problem.js';

export function loadFolder(overlay: string | null): Knowledge {
  const knowledge = read(overlay);
  keepLearnt(knowledge);
  return knowledge;
}

function read(overlay: string | null): Knowledge {
  const texts = readTexts(overlay);
  const hash = hashOf(texts, version());
  const kept = cache.read(hash);
  if (kept !== null) return fromRaw(kept as RawFiles, hash);
  const loaded = loadKnowledge(texts, hash);
  if (!loaded.ok) {
    const [first] = loaded.mistakes;
    throw new UsageProblem(
      `the knowledge folder has ${loaded.mistakes.length} mistake(s), the first: ${first ? mistakeLine(first) : ''} Run "thawline knowledge" for all.`,
    );
  }
  cache.write(hash, loaded.raw);
  return loaded.knowledge;
}

export function readTexts(overlay: string | null): ReturnType<typeof readFolders> {
  try {
    if (overlay) requireFolder(overlay);
    return readFolders(OWN_FOLDER, overlay);
  } catch (error) {
    throw new UsageProblem(error instanceof Error ? error.message : String(error));
  }
}

/** Of the program: a cache of another version is another cache. */
export function version(): string {
  const text = readFileSync(new URL('../../package.json', import.meta.url), 'utf8');
  return (JSON.parse(text) as { version: string }).version;
}
