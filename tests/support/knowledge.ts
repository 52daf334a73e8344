/** The real knowledge folder, read once a test run. */
import type { Knowledge } from '../../src/knowledge/facts.js';
import { OWN_FOLDER, hashOf, readFolders } from '../../src/knowledge/files.js';
import { loadKnowledge, type SourceText } from '../../src/knowledge/load.js';
import { mistakeLine } from '../../src/knowledge/mistake.js';

let kept: Knowledge | null = null;

export function realKnowledge(): Knowledge {
  kept ??= load(realTexts());
  return kept;
}

export const realTexts = (): SourceText[] => readFolders(OWN_FOLDER, null);

function load(texts: readonly SourceText[]): Knowledge {
  const loaded = loadKnowledge(texts, hashOf(texts, 'tests'));
  if (!loaded.ok) throw new Error(loaded.mistakes.map(mistakeLine).join('\n'));
  return loaded.knowledge;
}
