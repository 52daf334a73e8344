/** The parts of a running talk, wired: knowledge, store, conversations, and where a page goes. */
import { mkdirSync, renameSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { Conversations } from '../conversation.js';
import type { Knowledge } from '../knowledge/facts.js';
import { openStore, type Store } from '../store/store.js';
import { loadFolder } from './knowledge-folder.js';
import type { Settings } from './settings.js';

export interface Parts {
  readonly knowledge: Knowledge;
  readonly store: Store;
  readonly conversations: Conversations;
}

export function wire(settings: Settings, channel: string, options: { readonly greeted?: boolean } = {}): Parts {
  const knowledge = loadFolder(settings.overlay);
  const store = openStore(settings.db);
  const pages = join(dirname(settings.db), 'pages');
  const pagePath = (caseId: string): string => join(pages, `${caseId}.md`);
  const conversations = new Conversations(knowledge, store, {
    channel,
    contact: settings.contact,
    units: settings.units,
    greeted: options.greeted ?? false,
    pagePath,
    writePage: (caseId, page) => writeWhole(pagePath(caseId), page),
    onTrouble: (what, error, caseId) => {
      process.stderr.write(
        `case ${caseId}: ${what}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`,
      );
    },
  });
  return { knowledge, store, conversations };
}

/** A page is there whole or not at all. */
function writeWhole(path: string, text: string): void {
  mkdirSync(dirname(path), { recursive: true });
  const draft = `${path}.${process.pid}`;
  writeFileSync(draft, text, { mode: 0o600 });
  renameSync(draft, path);
}
