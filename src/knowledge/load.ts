/**
 * All texts of the folder into one Knowledge, or the whole list of mistakes: the bot never starts half-loaded.
 * Takes texts, not paths, so that tests and overlays need no disk.
 */
import type { z } from 'zod';
import { buildFacts } from './build.js';
import { crossCheck } from './check/index.js';
import { curveFile } from './curve-schema.js';
import type { Knowledge } from './facts.js';
import { defrostFile, placesFile } from './frost-schema.js';
import { hearingFile, lessonFile } from './lesson-schema.js';
import type { Mistake } from './mistake.js';
import { parseFile, type Parsed } from './parse.js';
import * as schema from './schema.js';
import { studyFile } from './study-schema.js';
import { unitFile } from './unit-schema.js';
import { waitsFile } from './waits-schema.js';

/** One text of the folder: `path` inside it, `file` as it is named in a mistake. */
export interface SourceText {
  readonly path: string;
  readonly file: string;
  readonly text: string;
}

/** Which schema a path is read by. A folder holds one entry a file, named for its id. */
const FOLDERS = {
  faults: schema.faultFile,
  findings: schema.findingFile,
  readings: schema.readingFile,
  hazards: schema.hazardFile,
  lessons: lessonFile,
  topics: schema.topicFile,
  curves: curveFile,
  units: unitFile,
} as const;
const MERGED = { language: schema.conceptsFile, words: schema.wordsFile, sentences: schema.sentencesFile } as const;
const SINGLE = {
  'systems.yaml': schema.systemsFile,
  'access.yaml': schema.accessFile,
  'costs.yaml': schema.costsFile,
  'witnesses.yaml': schema.witnessesFile,
  'scale.yaml': schema.scaleFile,
  'sources.yaml': schema.sourcesFile,
  'places.yaml': placesFile,
  'defrost.yaml': defrostFile,
  'waits.yaml': waitsFile,
  'study.yaml': studyFile,
  'hearing.yaml': hearingFile,
} as const;

type EntriesOf<S extends z.ZodType> = Parsed<z.output<S>>[];
export interface Files {
  faults: EntriesOf<typeof schema.faultFile>;
  findings: EntriesOf<typeof schema.findingFile>;
  readings: EntriesOf<typeof schema.readingFile>;
  hazards: EntriesOf<typeof schema.hazardFile>;
  lessons: EntriesOf<typeof lessonFile>;
  topics: EntriesOf<typeof schema.topicFile>;
  curves: EntriesOf<typeof curveFile>;
  units: EntriesOf<typeof unitFile>;
  language: EntriesOf<typeof schema.conceptsFile>;
  words: EntriesOf<typeof schema.wordsFile>;
  sentences: EntriesOf<typeof schema.sentencesFile>;
  'systems.yaml': Parsed<z.output<typeof schema.systemsFile>>;
  'access.yaml': Parsed<z.output<typeof schema.accessFile>>;
  'costs.yaml': Parsed<z.output<typeof schema.costsFile>>;
  'witnesses.yaml': Parsed<z.output<typeof schema.witnessesFile>>;
  'scale.yaml': Parsed<z.output<typeof schema.scaleFile>>;
  'sources.yaml': Parsed<z.output<typeof schema.sourcesFile>>;
  'places.yaml': Parsed<z.output<typeof placesFile>>;
  'defrost.yaml': Parsed<z.output<typeof defrostFile>>;
  'waits.yaml': Parsed<z.output<typeof waitsFile>>;
  'study.yaml': Parsed<z.output<typeof studyFile>>;
  'hearing.yaml': Parsed<z.output<typeof hearingFile>>;
}

export type Loaded =
  | { readonly ok: true; readonly knowledge: Knowledge; readonly raw: RawFiles }
  | { readonly ok: false; readonly mistakes: readonly Mistake[] };

/** Checked data without positions, fit for a cache. */
export type RawFiles = Record<string, unknown>;

export function loadKnowledge(texts: readonly SourceText[], hash: string): Loaded {
  const mistakes: Mistake[] = [];
  const files: Record<string, unknown> = {};
  for (const kind of [...Object.keys(FOLDERS), ...Object.keys(MERGED)]) files[kind] = [];
  for (const text of texts) readOne(text, files, mistakes);
  for (const name of Object.keys(SINGLE))
    if (!files[name] && !texts.some((t) => t.path === name))
      mistakes.push({ file: `knowledge/${name}`, line: 1, problem: 'the file is missing', mend: 'Put it back.' });
  if (mistakes.length > 0) return { ok: false, mistakes };
  const all = files as unknown as Files;
  crossCheck(all, mistakes);
  if (mistakes.length > 0) return { ok: false, mistakes };
  return { ok: true, knowledge: buildFacts(all, hash), raw: withoutPositions(files) };
}

/** The same facts from a cache that `loadKnowledge` filled; no checks are made again. */
export function fromRaw(raw: RawFiles, hash: string): Knowledge {
  const files: Record<string, unknown> = {};
  const placed = (data: unknown): unknown => ({ file: 'knowledge', data, line: () => 1 });
  for (const [kind, data] of Object.entries(raw)) files[kind] = Array.isArray(data) ? data.map(placed) : placed(data);
  return buildFacts(files as unknown as Files, hash);
}

function withoutPositions(files: Record<string, unknown>): RawFiles {
  const data = (p: unknown): unknown => (p as Parsed<unknown>).data;
  return Object.fromEntries(Object.entries(files).map(([kind, p]) => [kind, Array.isArray(p) ? p.map(data) : data(p)]));
}

function readOne(text: SourceText, files: Record<string, unknown>, mistakes: Mistake[]): void {
  const refuse = (problem: string, mend: string): void => {
    mistakes.push({ file: text.file, line: 1, problem, mend });
  };
  const single = (SINGLE as Record<string, z.ZodType>)[text.path];
  if (single) {
    files[text.path] = parseFile(text.file, text.text, single, mistakes) ?? undefined;
    return;
  }
  const [folder = '', name = '', ...deeper] = text.path.split('/');
  const merged = (MERGED as Record<string, z.ZodType>)[folder];
  const schemaOf = merged ?? (FOLDERS as Record<string, z.ZodType>)[folder];
  if (!schemaOf || deeper.length > 0 || !name) {
    const places = [
      ...Object.keys(SINGLE),
      ...Object.keys(FOLDERS).map((f) => `${f}/`),
      ...Object.keys(MERGED).map((f) => `${f}/`),
    ];
    refuse('no file of this name belongs here', `Allowed: ${places.join(', ')}.`);
    return;
  }
  const parsed = parseFile(text.file, text.text, schemaOf, mistakes) as Parsed<Record<string, unknown>> | null;
  if (!parsed) return;
  if (!merged) {
    const own = String(parsed.data['id'] ?? parsed.data['part']);
    const expected = name.replace(/\.yaml$/, '');
    if (own !== expected)
      refuse(`the entry calls itself "${own}" in a file named ${name}`, `Name both the same: "${own}.yaml".`);
  }
  (files[folder] as unknown[]).push(parsed);
}
