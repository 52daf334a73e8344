// Judges a body by Discord's own OpenAPI description (discord/discord-api-spec, specs/openapi.json, MIT), which lies in
// ../shared/reference-data; where that folder is absent nothing is judged here, and that is said once.

import { existsSync, readFileSync } from 'node:fs';
import addFormats from 'ajv-formats';
import { Ajv2020, type ErrorObject, type ValidateFunction } from 'ajv/dist/2020.js';
import type { FormFault } from './refusals.js';

type Schema = { [key: string]: unknown };

const FILE = new URL('../../../../shared/reference-data/discord-openapi.json', import.meta.url);
const ROOT = 'https://described.invalid/';

/** Whether Discord's description is there. */
export const described = existsSync(FILE);

/** Bodies that the description writes inside a path, under names of ours: 'put /path' of the description. */
const INLINE: Readonly<Record<string, [path: string, method: string]>> = {
  InteractionCallback: ['/interactions/{interaction_id}/{interaction_token}/callback', 'post'],
  CommandsPut: ['/applications/{application_id}/commands', 'put'],
};

let judges: Map<string, ValidateFunction> | undefined;
let ajv: Ajv2020 | undefined;
let said = false;

/** What is wrong with a body by the schema of that name; a missing schema throws. */
export function describedFaults(name: string, body: unknown): FormFault[] {
  if (!described) {
    if (!said)
      console.warn(
        `Discord's description is absent (../shared/reference-data): bodies are judged by hand rules alone.`,
      );
    said = true;
    return [];
  }
  const judge = compiled(name);
  return judge(body) ? [] : faults(judge.errors ?? []);
}

/** Compiles a schema before it is needed. */
export function prepare(name: string): void {
  if (described) compiled(name);
}

function compiled(name: string): ValidateFunction {
  judges ??= new Map();
  let judge = judges.get(name);
  if (judge === undefined) {
    ajv ??= load();
    judge = ajv.compile({ $ref: `${ROOT}#/components/schemas/${name}` });
    judges.set(name, judge);
  }
  return judge;
}

function load(): Ajv2020 {
  const description = JSON.parse(readFileSync(FILE, 'utf8')) as {
    components: { schemas: Schema };
    paths: Record<string, Record<string, { requestBody: { content: Record<string, { schema: Schema }> } }>>;
  };
  const schemas = description.components.schemas;
  for (const [name, [path, method]] of Object.entries(INLINE)) {
    const schema = description.paths[path]?.[method]?.requestBody.content['application/json']?.schema;
    if (schema === undefined) throw new Error(`The description has no ${method} ${path}.`);
    schemas[name] = schema;
  }
  const made = new Ajv2020({ strict: false, allErrors: true });
  addFormats.default(made);
  for (const format of ['snowflake', 'nonce', 'int32', 'int64', 'double']) made.addFormat(format, true);
  const sharpened = Object.fromEntries(
    Object.entries(schemas).map(([name, schema]) => [name, sharpen(schema, schemas) as Schema]),
  );
  made.addSchema({ $id: ROOT, components: { schemas: sharpened } });
  return made;
}

/** Refuses unknown keys, and judges a union tagged by `type` by the branch that is meant, so that faults are named. */
function sharpen(schema: unknown, schemas: Schema): unknown {
  if (Array.isArray(schema)) return schema.map((s) => sharpen(s, schemas));
  if (typeof schema !== 'object' || schema === null) return schema;
  const copy = Object.fromEntries(
    Object.entries(schema as Schema).map(([key, value]) => [key, key === 'enum' ? value : sharpen(value, schemas)]),
  );
  const properties = copy['properties'] as Schema | undefined;
  if (properties !== undefined && typeof copy['type'] !== 'object' && copy['additionalProperties'] === undefined) {
    copy['additionalProperties'] = false;
    // The library adds these two to every message, also where the description does not know them.
    if (properties['content'] !== undefined) {
      copy['properties'] = { tts: { type: 'boolean' }, enforce_nonce: { type: 'boolean' }, ...properties };
    }
  }
  for (const key of ['oneOf', 'anyOf']) {
    const branches = copy[key];
    if (!Array.isArray(branches)) continue;
    const rest = (branches as Schema[]).filter((b) => b['type'] !== 'null');
    const judged = rest.length === 1 ? (rest[0] as Schema) : tagged(rest, schemas);
    if (judged === undefined) continue;
    delete copy[key];
    const nullable = rest.length < branches.length;
    return { ...copy, ...(nullable ? { if: { type: 'null' }, else: judged } : { allOf: [judged] }) };
  }
  return copy;
}

function tagged(branches: readonly Schema[], schemas: Schema): Schema | undefined {
  const tags = branches.map((branch) => {
    const name = ((branch['$ref'] as string | undefined) ?? '').replace('#/components/schemas/', '');
    const properties = ((schemas[name] ?? branch) as Schema)['properties'] as Record<string, Schema> | undefined;
    return properties?.['type']?.['enum'] as number[] | undefined;
  });
  const all = tags.flatMap((t) => t ?? []);
  if (tags.includes(undefined) || new Set(all).size !== all.length) return undefined;
  const known = { type: 'object', required: ['type'], properties: { type: { enum: all } } };
  const chosen = branches.map((branch, i) => ({
    if: { type: 'object', required: ['type'], properties: { type: { enum: tags[i] } } },
    // oxlint-disable-next-line unicorn/no-thenable
    then: branch,
  }));
  return { allOf: [known, ...chosen] };
}

function faults(errors: readonly ErrorObject[]): FormFault[] {
  const named = errors.filter((e) => e.keyword !== 'if' && e.keyword !== 'oneOf' && e.keyword !== 'anyOf');
  return (named.length === 0 ? errors : named).map((error) => {
    const params = error.params as { additionalProperty?: string; missingProperty?: string };
    const key = params.additionalProperty ?? params.missingProperty;
    const path = error.instancePath
      .split('/')
      .slice(1)
      .concat(key ?? []);
    return { path, code: code(error.keyword), message: error.message ?? error.keyword };
  });
}

function code(keyword: string): string {
  const known: Record<string, string> = {
    maxLength: 'BASE_TYPE_MAX_LENGTH',
    minLength: 'BASE_TYPE_MIN_LENGTH',
    maxItems: 'BASE_TYPE_MAX_LENGTH',
    minItems: 'BASE_TYPE_MIN_LENGTH',
    required: 'BASE_TYPE_REQUIRED',
    enum: 'BASE_TYPE_CHOICES',
    additionalProperties: 'UNKNOWN_KEY',
  };
  return known[keyword] ?? `SCHEMA_${keyword.toUpperCase()}`;
}
