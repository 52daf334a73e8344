/** The parts of a running talk, wired: knowledge, store, conversations, and where a page goes. */
import { mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { Conversations } from '../conversation.js';
import type { Knowledge } from '../knowledge/facts.js';
import type { NamedPicture } from '../pictures/picture.js';
import { openStore, type Store } from '../store/store.js';
import { loadFolder } from './knowledge-folder.js';
import type { Settings } from './settings.js';

export interface Parts {
  readonly knowledge: Knowledge;
  readonly store: Store;
  readonly conversations: Conversations;
}

interface Options {
  readonly greeted?: boolean;
  /** a channel that can show a file takes pictures as PNG beside the store */
  readonly onPicture?: (path: string, picture: NamedPicture) => void;
}

export function wire(settings: Settings, channel: string, { greeted = false, onPicture }: Options = {}): Parts {
  const knowledge = loadFolder(settings.overlay);
  const store = openStore(settings.db);
  const pages = join(dirname(settings.db), 'pages');
  // to print; the same to read stands beside it
  const pagePath = (caseId: string): string => join(pages, `${caseId}.html`);
  const picturePath = (caseId: string, name: string): string =>
    join(dirname(settings.db), 'pictures', `${caseId}-${name}.png`);
  const conversations = new Conversations(knowledge, store, {
    channel,
    contact: settings.contact,
    units: settings.units,
    greeted,
    pagePath,
    writePage: (caseId, markdown, html) => {
      writeWhole(join(pages, `${caseId}.md`), markdown);
      if (html !== null) writeWhole(pagePath(caseId), html);
    },
    ...(onPicture
      ? { picturePath, onPicture: (caseId, picture) => onPicture(picturePath(caseId, picture.name), picture) }
      : {}),
    onTrouble: (what, error, caseId) => {
      process.stderr.write(
        `case ${caseId}: ${what}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`,
      );
    },
  });
  return { knowledge, store, conversations };
}

/** A page or a picture is there whole or not at all. */
export function writeWhole(path: string, text: string | Uint8Array): void {
  mkdirSync(dirname(path), { recursive: true });
  const draft = `${path}.${process.pid}`;
  try {
    writeFileSync(draft, text, { mode: 0o600 });
    renameSync(draft, path);
  } catch (error) {
    rmSync(draft, { force: true });
    throw error;
  }
}
