/** One line of bytes as one JSON value, or the one thing that is wrong with it; nothing is read two ways. */
import type { InvalidInput } from '../message/incoming.js';

export type ReadJson =
  { readonly ok: true; readonly data: unknown } | { readonly ok: false; readonly error: InvalidInput };

/** The contract needs four. */
const DEEPEST = 16;
const SIGNS = /"(?:[^"\\]|\\.)*"|[{}[\],:]/g;

const refuse = (field: string, message: string): ReadJson => ({ ok: false, error: { field, message } });

/**
 * RFC 8259, and what RFC 7493 (I-JSON) asks beyond it: no key twice in an object, no half of a character. Linear in the
 * length of the line, without recursion.
 */
export function readJson(line: string): ReadJson {
  if (line.trim() === '') return refuse('', 'an empty line; expected one JSON object');
  let data: unknown;
  try {
    data = JSON.parse(line);
  } catch {
    return refuse('', 'not readable as JSON');
  }
  const open: { readonly keys: Set<string> | null; key: string }[] = [];
  let last = '';
  for (const [sign] of line.matchAll(SIGNS)) {
    const here = open.at(-1);
    if (sign === '{' || sign === '[') open.push({ keys: sign === '{' ? new Set() : null, key: '' });
    else if (sign === '}' || sign === ']') open.pop();
    else if (sign === ':') {
      if (here?.keys?.has(last)) return refuse(pathTo(open, last), 'this key stands twice in one object');
      here?.keys?.add(last);
      if (here) here.key = last;
    } else if (sign !== ',') {
      last = JSON.parse(sign) as string;
      if (!last.isWellFormed()) return refuse(pathTo(open, ''), 'half of a character (a lone surrogate)');
    }
    if (open.length > DEEPEST) return refuse(pathTo(open.slice(0, 1), ''), `nested deeper than ${DEEPEST}`);
  }
  return { ok: true, data };
}

const pathTo = (open: readonly { readonly key: string }[], last: string): string =>
  brief([...open.slice(0, last ? -1 : undefined).map((o) => o.key), last].filter(Boolean).join('.'));

const LONGEST = 100;
/** A name from outside, fit to be said back. */
export const brief = (name: string): string => (name.length > LONGEST ? `${name.slice(0, LONGEST)}...` : name);
