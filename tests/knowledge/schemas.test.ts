/** The schemas beside the knowledge are those of the program. `UPDATE_SCHEMAS=1 npx vitest run tests/knowledge/schemas.test.ts` writes them anew. */
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { parse } from 'yaml';
import { expect, it } from 'vitest';
import { realTexts } from '../support/knowledge.js';
import { schemaTexts } from './schemas.js';

const folder = fileURLToPath(new URL('../../knowledge/schemas/', import.meta.url));
const wanted = schemaTexts();

if (process.env['UPDATE_SCHEMAS']) {
  mkdirSync(folder, { recursive: true });
  for (const [name, text] of wanted) writeFileSync(`${folder}${name}`, text);
}

it('are up to date, one a kind of file', () => {
  expect(readdirSync(folder).sort()).toEqual([...wanted.keys()].sort());
  for (const [name, text] of wanted) expect(readFileSync(`${folder}${name}`, 'utf8'), name).toBe(text);
});

const ajv = new Ajv2020({ strict: false });
const check = (kind: string): ((data: unknown) => boolean) =>
  ajv.compile(JSON.parse(wanted.get(`${kind}.schema.json`) ?? '{}') as object);

it('accept the files that are there, and refuse an unknown key', () => {
  const kinds = {
    faults: 'fault',
    findings: 'finding',
    hazards: 'hazard',
    topics: 'topic',
    readings: 'reading',
  } as const;
  for (const [place, kind] of Object.entries(kinds)) {
    const valid = check(kind);
    const files = realTexts().filter((t) => t.path.startsWith(`${place}/`));
    expect(files.length).toBeGreaterThan(0);
    for (const t of files) expect(valid(parse(t.text)), t.path).toBe(true);
    expect(valid({ ...(parse(files[0]?.text ?? '') as object), unheardOf: 1 })).toBe(false);
  }
});
