/**
 * One YAML text into checked data. YAML 1.2 core: duplicate keys, aliases and tags of other types are refused.
 * Every mistake carries the line it stands on; a text with a mistake yields no data.
 */
import { LineCounter, parseDocument, type Document } from 'yaml';
import type { z } from 'zod';
import type { Mistake } from './mistake.js';

/** A checked file: its data and a way back to the line of any place in it. */
export interface Parsed<T> {
  readonly file: string;
  readonly data: T;
  readonly line: (path: readonly PropertyKey[]) => number;
}

const FORBIDDEN = new Set(['__proto__', 'constructor', 'prototype']);
const LARGEST = 200_000;
/** One bracket that is left open makes many mistakes: only the first are told. */
const MOST_UNREADABLE = 5;

export function parseFile<S extends z.ZodType>(
  file: string,
  text: string,
  schema: S,
  mistakes: Mistake[],
): Parsed<z.output<S>> | null {
  const before = mistakes.length;
  const refuse = (line: number, problem: string, mend: string): void => {
    mistakes.push({ file, line, problem, mend });
  };
  if (text.length > LARGEST) {
    refuse(1, `the file has ${text.length} characters`, `Split it: ${LARGEST} are the most.`);
    return null;
  }
  const counter = new LineCounter();
  const doc = parseDocument(text, {
    lineCounter: counter,
    uniqueKeys: true,
    version: '1.2',
    schema: 'core',
    merge: false,
    logLevel: 'error',
  });
  const problems = [...doc.errors, ...doc.warnings];
  if (problems.some((p) => p.message.startsWith('Maximum call stack'))) {
    refuse(1, 'the file is nested too deep to be read', 'Write it flat, as the entry beside it.');
    return null;
  }
  for (const problem of problems.slice(0, MOST_UNREADABLE)) {
    const line = counter.linePos(problem.pos[0]).line;
    const first = problem.message.split('\n')[0] ?? problem.message;
    if (problem.code === 'DUPLICATE_KEY') refuse(line, 'the same key stands twice in one map', 'Keep one of the two.');
    else
      refuse(
        line,
        `not readable as YAML: ${first.replace(/ at line.*$/, '')}`,
        'Mend the indentation, the quotes or the bracket here.',
      );
  }
  if (mistakes.length > before) return null;
  const line = (path: readonly PropertyKey[]): number => lineOf(doc, counter, path);
  let data: unknown;
  try {
    data = doc.toJS({ maxAliasCount: 0 });
  } catch {
    refuse(1, 'the file uses YAML aliases (& and *)', 'Write the text out at each place.');
    return null;
  }
  const bad = forbiddenKey(data, []);
  if (bad) {
    refuse(line(bad), `the key "${String(bad.at(-1))}" is not allowed`, 'Choose another name.');
    return null;
  }
  const result = schema.safeParse(data);
  if (result.success) return { file, data: result.data, line };
  for (const issue of result.error.issues) {
    if (issue.code === 'unrecognized_keys') {
      const allowed = allowedKeys(schema, issue.path);
      for (const key of issue.keys)
        refuse(
          line([...issue.path, key]),
          `unknown key "${[...issue.path, key].join('.')}"`,
          allowed.length ? `Allowed here: ${allowed.join(', ')}.` : 'Remove it.',
        );
      continue;
    }
    const where = issue.path.join('.') || 'the file';
    const missing = issue.code === 'invalid_type' && readAt(data, issue.path) === undefined;
    if (missing)
      refuse(
        line(issue.path),
        `"${where}" is missing`,
        `Add it${issue.code === 'invalid_type' ? ` (${issue.expected})` : ''}.`,
      );
    else refuse(line(issue.path), `"${where}" is not as expected: ${issue.message}`, mendFor(issue));
  }
  return null;
}

function mendFor(issue: z.core.$ZodIssue): string {
  if (issue.code === 'invalid_value') return `Allowed: ${issue.values.join(', ')}.`;
  if (issue.code === 'invalid_type') return `Write a value of type ${issue.expected}.`;
  if (issue.code === 'invalid_format') return 'Use lower-case words joined by - or a full stop.';
  return 'Compare with the entry beside it or with knowledge/README.md.';
}

function readAt(data: unknown, path: readonly PropertyKey[]): unknown {
  let at: unknown = data;
  for (const key of path)
    at = at !== null && typeof at === 'object' ? (at as Record<PropertyKey, unknown>)[key] : undefined;
  return at;
}

function forbiddenKey(data: unknown, path: PropertyKey[]): PropertyKey[] | null {
  if (data === null || typeof data !== 'object') return null;
  for (const [key, value] of Object.entries(data)) {
    if (FORBIDDEN.has(key)) return [...path, key];
    const deeper = forbiddenKey(value, [...path, key]);
    if (deeper) return deeper;
  }
  return null;
}

function lineOf(doc: Document, counter: LineCounter, path: readonly PropertyKey[]): number {
  for (let n = path.length; n > 0; n -= 1) {
    const node: unknown = keyNode(doc, path.slice(0, n));
    const range = (node as { range?: [number, number, number] } | undefined)?.range;
    if (range) return counter.linePos(range[0]).line;
  }
  return 1;
}

/** The node of the key itself, so that the line is the one a person would look at. */
function keyNode(doc: Document, path: readonly PropertyKey[]): unknown {
  const parent: unknown = path.length > 1 ? doc.getIn(path.slice(0, -1) as string[], true) : doc.contents;
  const items = (parent as { items?: unknown[] } | null)?.items;
  const last = path.at(-1);
  if (!items) return undefined;
  if (typeof last === 'number') return items[last];
  for (const item of items) {
    const key = (item as { key?: { value?: unknown } }).key;
    if (key && key.value === last) return key;
  }
  return undefined;
}

/** The keys a strict schema allows at a path; empty where it is a free map. */
function allowedKeys(schema: z.ZodType, path: readonly PropertyKey[]): string[] {
  let at: z.ZodType | undefined = unwrap(schema);
  for (const key of path) {
    const def = at?.def as unknown as {
      type: string;
      shape?: Record<string, z.ZodType>;
      valueType?: z.ZodType;
      element?: z.ZodType;
    };
    if (!def) return [];
    if (def.type === 'object') at = def.shape?.[String(key)];
    else if (def.type === 'record') at = def.valueType;
    else if (def.type === 'array') at = def.element;
    else return [];
    at = at && unwrap(at);
  }
  const shape = (at?.def as unknown as { shape?: Record<string, unknown> } | undefined)?.shape;
  return shape ? Object.keys(shape) : [];
}

function unwrap(schema: z.ZodType): z.ZodType {
  let at = schema;
  for (;;) {
    const inner = (at.def as unknown as { innerType?: z.ZodType }).innerType;
    if (!inner) return at;
    at = inner;
  }
}
