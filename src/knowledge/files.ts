/**
 * The only file of this room that opens files: reads the knowledge folder and an overlay laid over it, and keeps
 * a cache of what has been checked. It decides nothing about what the files say.
 */
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, statSync, writeFileSync } from 'node:fs';
import { homedir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { SourceText } from './load.js';

/** The folder that comes with the program. */
export const OWN_FOLDER = fileURLToPath(new URL('../../knowledge', import.meta.url));

/** Reads every .yaml file below `folder`; a file of the overlay replaces ours of the same path, others are added. */
export function readFolders(folder: string, overlay: string | null): SourceText[] {
  const texts = new Map<string, SourceText>();
  for (const [base, label] of overlay
    ? ([
        [folder, 'knowledge'],
        [overlay, overlay],
      ] as const)
    : ([[folder, 'knowledge']] as const)) {
    for (const path of yamlFiles(base, '')) {
      texts.set(path, { path, file: `${label}/${path}`, text: readFileSync(join(base, path), 'utf8') });
    }
  }
  return [...texts.values()].sort((a, b) => (a.path < b.path ? -1 : 1));
}

/** Throws an error fit for the reader when the folder cannot be read. */
export function requireFolder(folder: string): void {
  if (!existsSync(folder) || !statSync(folder).isDirectory())
    throw new Error(`The knowledge folder ${folder} cannot be read: give the path of an existing folder.`);
}

/** Bytes; far more than a file of words and numbers has. */
const LARGEST = 1_000_000;

/** Throws an error fit for the reader where something else than a plain file of a sane size carries the name of one. */
function yamlFiles(base: string, below: string): string[] {
  const found: string[] = [];
  for (const entry of readdirSync(join(base, below), { withFileTypes: true })) {
    const path = below ? `${below}/${entry.name}` : entry.name;
    const isYaml = /\.ya?ml$/.test(entry.name);
    if (entry.isSymbolicLink() && (isYaml || statSync(join(base, path), { throwIfNoEntry: false })?.isDirectory()))
      throw new Error(`${join(base, path)} is a link: put the file itself there, a folder is read as it stands.`);
    if (entry.isDirectory()) found.push(...yamlFiles(base, path));
    else if (isYaml) {
      if (!entry.isFile()) throw new Error(`${join(base, path)} is no plain file: take it away.`);
      if (statSync(join(base, path)).size > LARGEST)
        throw new Error(`${join(base, path)} has more than ${LARGEST} bytes: split it.`);
      found.push(path);
    }
  }
  return found;
}

export function hashOf(texts: readonly SourceText[], salt: string): string {
  const hash = createHash('sha256').update(salt);
  for (const t of texts) hash.update(t.file).update('\0').update(t.text).update('\0');
  return hash.digest('hex').slice(0, 32);
}

/** A cache of checked data, keyed by the folder's hash; a broken or missing cache is the same as none. */
export const cache = {
  read(key: string): unknown {
    try {
      return JSON.parse(readFileSync(cachePath(key), 'utf8')) as unknown;
    } catch {
      return null;
    }
  },
  write(key: string, data: unknown): void {
    try {
      const path = cachePath(key);
      mkdirSync(dirname(path), { recursive: true });
      const draft = `${path}.${process.pid}`;
      writeFileSync(draft, JSON.stringify(data));
      renameSync(draft, path);
    } catch {
      // without a cache the start is slower, nothing else
    }
  },
};

function cachePath(key: string): string {
  const base = process.env['XDG_CACHE_HOME'] || join(homedir(), '.cache');
  return join(base, 'thawline', `knowledge-${key}.json`);
}
