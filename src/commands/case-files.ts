/** What stands beside the store for each case: its page to print and to read, its pictures. */
import { existsSync, mkdirSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';

export interface CaseFiles {
  readonly page: (caseId: string) => string;
  readonly pageToRead: (caseId: string) => string;
  readonly picture: (caseId: string, name: string) => string;
  /** everything that stands there of a case, drafts included */
  readonly of: (caseId: string) => string[];
  /** Deletes them; nothing happens where there is none. */
  readonly forget: (caseId: string) => void;
}

export function caseFiles(db: string): CaseFiles {
  const pages = join(dirname(db), 'pages');
  const pictures = join(dirname(db), 'pictures');
  const found = (folder: string, start: string): string[] =>
    existsSync(folder) ? readdirSync(folder).flatMap((n) => (n.startsWith(start) ? [join(folder, n)] : [])) : [];
  const of = (caseId: string): string[] => [...found(pages, `${caseId}.`), ...found(pictures, `${caseId}-`)];
  return {
    page: (caseId) => join(pages, `${caseId}.html`),
    pageToRead: (caseId) => join(pages, `${caseId}.md`),
    picture: (caseId, name) => join(pictures, `${caseId}-${name}.png`),
    of,
    forget: (caseId) => {
      for (const path of of(caseId)) rmSync(path, { force: true });
    },
  };
}

/** A page or a picture is there whole or not at all. */
export function writeWhole(path: string, text: string | Uint8Array): void {
  mkdirSync(dirname(path), { recursive: true });
  // always the same one: what a killed program left is written over by the next
  const draft = `${path}.draft`;
  try {
    writeFileSync(draft, text, { mode: 0o600 });
    renameSync(draft, path);
  } catch (error) {
    rmSync(draft, { force: true });
    throw error;
  }
}
