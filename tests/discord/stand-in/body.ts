// Reads a request's body: JSON, or a multipart form with payload_json and files[n], or a form with files alone.

import type { IncomingMessage } from 'node:http';
import { badForm, tooLarge } from './refusals.js';

/** A file as it was uploaded, by the bot or by a person of the test. */
export interface Upload {
  /** The n of files[n]; attachments in the body refer to it by their id. */
  readonly key: string;
  readonly name: string;
  readonly type: string;
  readonly bytes: Buffer;
}

export interface Body {
  readonly json: unknown;
  readonly uploads: readonly Upload[];
}

/** Documented: 25 MiB a request (resources/message.mdx), 10 MiB a file by default (reference.mdx, Uploading Files). */
const REQUEST_BYTES = 25 * 1024 * 1024;
const FILE_BYTES = 10 * 1024 * 1024;

export async function bytesOf(request: IncomingMessage): Promise<Buffer> {
  const parts: Buffer[] = [];
  for await (const part of request) parts.push(part as Buffer);
  return Buffer.concat(parts);
}

/** @throws Refusal 400/50035 or 50109 for what is no JSON, 413/40005 for what is too large */
export async function readBody(type: string, bytes: Buffer): Promise<Body> {
  if (bytes.length > REQUEST_BYTES) throw tooLarge();
  if (bytes.length === 0) return { json: undefined, uploads: [] };
  if (!type.startsWith('multipart/form-data')) return { json: parse(bytes.toString('utf8')), uploads: [] };

  const form = await new Response(new Uint8Array(bytes), { headers: { 'content-type': type } }).formData();
  const uploads: Upload[] = [];
  let json: unknown = {};
  for (const [name, value] of form) {
    if (name === 'payload_json') {
      json = parse(typeof value === 'string' ? value : await value.text());
      continue;
    }
    const key = /^files\[(\d+)\]$/.exec(name)?.[1];
    if (key === undefined || typeof value === 'string') {
      throw badForm([{ path: [name], code: 'UNKNOWN_PART', message: 'Only payload_json and files[n] are expected.' }]);
    }
    const file = Buffer.from(await value.arrayBuffer());
    if (file.length > FILE_BYTES) throw tooLarge();
    uploads.push({ key, name: value.name, type: value.type, bytes: file });
  }
  return { json, uploads };
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    throw badForm([{ path: [], code: 'INVALID_JSON', message: 'The request body contains invalid JSON.' }]);
  }
}
