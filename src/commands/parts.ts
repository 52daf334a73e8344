/** The parts of a running talk, wired: knowledge, store, conversations, and where a page goes. */
import { Conversations, type Surroundings } from '../conversation.js';
import type { Knowledge } from '../knowledge/facts.js';
import { shown } from '../message/shown.js';
import type { NamedPicture } from '../pictures/picture.js';
import { openStore, type Store } from '../store/store.js';
import { caseFiles, writeWhole, type CaseFiles } from './case-files.js';
import { loadFolder } from './knowledge-folder.js';
import type { Settings } from './settings.js';

export interface Parts {
  readonly knowledge: Knowledge;
  readonly store: Store;
  readonly conversations: Conversations;
  readonly files: CaseFiles;
}

interface Options {
  readonly greeted?: boolean;
  /** a channel that can show a file takes pictures as PNG beside the store */
  readonly onPicture?: (path: string, picture: NamedPicture) => void;
  /** what a channel has of its own instead */
  readonly own?: (parts: Pick<Parts, 'knowledge' | 'store'>) => Partial<Surroundings>;
}

export function wire(settings: Settings, channel: string, { greeted = false, onPicture, own }: Options = {}): Parts {
  const knowledge = loadFolder(settings.overlay);
  const store = openStore(settings.db);
  const files = caseFiles(settings.db);
  const conversations = new Conversations(knowledge, store, {
    channel,
    contact: settings.contact,
    units: settings.units,
    greeted,
    pagePath: files.page,
    writePage: (caseId, markdown, html) => {
      writeWhole(files.pageToRead(caseId), markdown);
      if (html !== null) writeWhole(files.page(caseId), html);
    },
    ...(onPicture
      ? {
          picturePath: files.picture,
          onPicture: (caseId, picture) => onPicture(files.picture(caseId, picture.name), picture),
        }
      : {}),
    onTrouble: (what, error, caseId) => {
      process.stderr.write(
        shown(`case ${caseId}: ${what}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`),
      );
    },
    ...own?.({ knowledge, store }),
  });
  return { knowledge, store, conversations, files };
}
