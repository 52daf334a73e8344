/** The JSON-lines channel as a front end meets it: a process of its own, judged by its lines and by its store. */
import { Ajv2020, type ValidateFunction } from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Answer } from '../../src/message/outgoing.js';
import { openStore } from '../../src/store/store.js';
import { jsonLines, newFolder, outLines, run, start } from './program.js';

const homeowner = { id: 'u1', role: 'homeowner' };
const technician = { id: 'u1', role: 'technician' };
const text = { case: 'k1', from: homeowner, text: 'frost on the back wall' };
const answer = { case: 'k1', from: homeowner, answer: { finding: 'frost.location', value: 'freezer-back-wall' } };
const sensor = { part: 'defrost-sensor', quantity: 'resistance', value: 5.4, unit: 'kohm', atC: 22.8 };
const reading = { case: 'k1', from: homeowner, reading: sensor };
/** Opens a case at less cost than words do: the ear for words is built at the first text of a process. */
const opening = answer;
const poll = { case: 'k1', from: homeowner, poll: true };

interface ErrorLine {
  readonly error: { readonly code: string; readonly field: string; readonly message: string };
}

let validOut: ValidateFunction;
beforeAll(async () => {
  const { code, out } = await run(['schema', 'out']);
  expect(code).toBe(0);
  const ajv = new Ajv2020({ strict: true, allowUnionTypes: true });
  addFormats.default(ajv);
  validOut = ajv.compile(JSON.parse(out) as object);
});

/** Runs lines through one process that must end cleanly, and checks each line out against the schema. */
async function talk(db: string, lines: readonly unknown[]): Promise<string[]> {
  const { code, out, err } = await run(['stdio', '--db', db], jsonLines(lines));
  expect({ code, err }).toEqual({ code: 0, err: '' });
  const answers = outLines(out);
  for (const line of answers) expect(validOut(JSON.parse(line)), JSON.stringify(validOut.errors)).toBe(true);
  expect(answers).toHaveLength(lines.length);
  return answers;
}

const answered = (line: string | undefined): Answer => JSON.parse(line ?? 'null') as Answer;
const refused = (line: string | undefined): ErrorLine['error'] => (JSON.parse(line ?? 'null') as ErrorLine).error;

/** All that the store holds of one conversation. */
function kept(db: string, conversation: string): unknown {
  const store = openStore(db);
  try {
    const caseId = store.caseOf('stdio', conversation);
    return caseId && { caseId, state: store.load(caseId), messages: store.messages(caseId) };
  } finally {
    store.close();
  }
}

const newStore = (): string => join(newFolder(), 'cases.db');

describe.concurrent('three lines in', () => {
  it('give three lines out, in order, for one case', async () => {
    const db = newStore();
    const out = (await talk(db, [text, answer, reading])).map(answered);
    expect(out.map((a) => a.case)).toEqual(['k1', 'k1', 'k1']);
    expect(out[0]?.caseId).toMatch(/^[0-9A-Z]{8}$/);
    expect(new Set(out.map((a) => a.caseId)).size).toBe(1);
    expect(out[0]?.understood).toContainEqual(
      expect.objectContaining({ finding: 'frost.location', value: 'freezer-back-wall', denied: false }),
    );
    expect(out[1]?.understood).toEqual([
      { finding: 'frost.location', value: 'freezer-back-wall', denied: false, confidence: 1, span: null },
    ]);
    expect(out[2]?.readings).toMatchObject([
      { part: 'defrost-sensor', quantity: 'resistance', value: 5400, unit: 'ohm', atC: 22.8 },
    ]);
    for (const { ranking, ask } of out) {
      expect(ranking.reduce((sum, r) => sum + r.probability, 0)).toBeCloseTo(1, 6);
      expect(ask?.choices.at(-1)?.value).toBe('not-sure');
    }
  });

  it('need no line break at the end of the input, and take Windows line ends', async () => {
    const { code, out } = await run(
      ['stdio', '--db', newStore()],
      `${JSON.stringify(opening)}\r\n${JSON.stringify(poll)}`,
    );
    expect(code).toBe(0);
    expect(outLines(out).map((l) => answered(l).case)).toEqual(['k1', 'k1']);
  });

  it('are answered one by one, before the input ends', async () => {
    const { write, next, child, ended } = start(['stdio', '--db', newStore()]);
    for (const line of [opening, answer, reading]) {
      write(JSON.stringify(line));
      expect(answered((await next()) ?? undefined).case).toBe('k1');
    }
    child.stdin.end();
    expect((await ended).code).toBe(0);
  });

  it('of two conversations make two cases', async () => {
    const out = (await talk(newStore(), [opening, { ...opening, case: 'k2' }, poll])).map(answered);
    expect(out[0]?.caseId).not.toBe(out[1]?.caseId);
    expect(out[2]?.caseId).toBe(out[0]?.caseId);
  });
});

describe.concurrent('a line that is not valid', () => {
  const of = (over: object): object => ({ case: 'k1', from: technician, reading: { ...sensor, ...over } });
  const wrong: readonly [string, unknown, string][] = [
    ['not JSON', '{"case":"k1",', ''],
    ['an empty line', '', ''],
    ['a list', '[]', ''],
    ['longer than 64 KiB', JSON.stringify({ ...text, text: 'x'.repeat(65_600) }), ''],
    ['text too long', { ...text, text: 'x'.repeat(4001) }, 'text'],
    ['nothing but spaces', { ...text, text: '  ' }, 'text'],
    ['an unknown key', { ...text, mood: 'cold' }, 'mood'],
    ['an unknown role', { ...text, from: { id: 'u1', role: 'boss' } }, 'from.role'],
    ['an unknown finding', { ...answer, answer: { finding: 'frost.colour', value: 'white' } }, 'answer.finding'],
    ['an unknown value', { ...answer, answer: { finding: 'frost.location', value: 'attic' } }, 'answer.value'],
    [
      'a list for one value',
      { ...answer, answer: { finding: 'drain.condition', value: ['iced', 'debris'] } },
      'answer.value',
    ],
    [
      'not sure among others',
      { ...answer, answer: { finding: 'frost.location', value: ['not-sure', 'door-edge'] } },
      'answer.value',
    ],
    [
      'a number as an answer',
      { ...answer, answer: { finding: 'defrost-sensor.resistance', value: '5400' } },
      'answer.value',
    ],
    ['an unknown part', of({ part: 'flux-coil' }), 'reading.part'],
    ['a quantity that the part has not', of({ quantity: 'voltage', unit: 'V' }), 'reading.quantity'],
    ['a unit that does not belong', of({ unit: 'V' }), 'reading.unit'],
    ['a unit left out', of({ unit: undefined }), 'reading.unit'],
    ['negative ohms', of({ value: -5 }), 'reading.value'],
    ['closed ohms', of({ value: 'closed' }), 'reading.value'],
    ['an unknown curve', of({ curve: 'no-such-curve' }), 'reading.curve'],
    ["another judge's rating", of({ rating: { power: 450, voltage: 115 } }), 'reading.rating'],
    ['a temperature below absolute zero', of({ atC: -300 }), 'reading.atC'],
  ];

  it('gets an error that names the field, in its place; the stream goes on and no case changes', async () => {
    const db = newStore();
    await talk(db, [opening, { ...opening, id: 'm0' }]);
    const before = kept(db, 'k1');
    const lines = wrong.flatMap(([, line]) => [line, { ...poll, case: 'other' }]);
    const out = await talk(db, lines);
    wrong.forEach(([what, , field], i) => {
      const error = refused(out[2 * i]);
      expect({ what, code: error.code, field: error.field }).toEqual({ what, code: 'invalid-input', field });
      expect(error.message.length).toBeGreaterThan(0);
      expect(answered(out[2 * i + 1]).case).toBe('other');
    });
    expect(kept(db, 'k1')).toEqual(before);
    expect(kept(db, 'other')).toBeNull();
  });

  it('may have 64 KiB and no more', async () => {
    const padded = (bytes: number): string => {
      const line = JSON.stringify(opening);
      return line.slice(0, -1) + ' '.repeat(bytes - Buffer.byteLength(line)) + '}';
    };
    const out = await talk(newStore(), [padded(64 * 1024), padded(64 * 1024 + 1), poll]);
    expect(answered(out[0]).case).toBe('k1');
    expect(refused(out[1]).code).toBe('invalid-input');
    expect(answered(out[2]).caseId).toBe(answered(out[0]).caseId);
  });
});

describe.concurrent('a repeated id', () => {
  it('gets the same bytes again and changes nothing, whatever else the line says', async () => {
    const db = newStore();
    const first = { ...opening, id: 'm1' };
    const out = await talk(db, [first, { ...answer, id: 'm2' }]);
    const before = kept(db, 'k1');
    const again = await talk(db, [
      first,
      { ...text, id: 'm1', text: 'there is a burning smell' },
      { ...reading, id: 'm1', from: { id: 'u2', role: 'technician' } },
      { ...answer, id: 'm1', answer: { finding: 'no.such', value: 'finding' } },
      { ...poll, id: 'm1' },
      { ...text, id: 'm2' },
    ]);
    expect(again).toEqual([out[0], out[0], out[0], out[0], out[0], out[1]]);
    expect(kept(db, 'k1')).toEqual(before);
  });

  it('is another message in another case', async () => {
    const out = await talk(newStore(), [
      { ...opening, id: 'm1' },
      { ...opening, case: 'k2', id: 'm1' },
    ]);
    expect(answered(out[1]).caseId).not.toBe(answered(out[0]).caseId);
  });
});

describe.concurrent('a poll', () => {
  it('of a conversation that is not there opens nothing', async () => {
    const db = newStore();
    const out = await talk(db, [poll, { ...poll, id: 'p1' }]);
    expect(out.map((l) => answered(l).notes)).toEqual([[], []]);
    expect(kept(db, 'k1')).toBeNull();
  });

  it('changes nothing, however often, and shows the case as it stands', async () => {
    const db = newStore();
    const [last] = (await talk(db, [opening])).map(answered);
    const before = kept(db, 'k1');
    for (const again of (await talk(db, [poll, poll, poll])).map(answered)) {
      expect(again).toMatchObject({
        understood: [],
        readings: [],
        hazards: [],
        notes: [],
        offTopic: false,
        wantsPerson: false,
      });
      const { status, ranking, pairs, conclusion, escalation } = again;
      expect({ status, ranking, pairs, conclusion, escalation }).toEqual({
        status: last?.status,
        ranking: last?.ranking,
        pairs: last?.pairs,
        conclusion: last?.conclusion,
        escalation: last?.escalation,
      });
      expect(again.ask?.finding).toBe(last?.ask?.finding);
    }
    expect(kept(db, 'k1')).toEqual(before);
  });

  it('with an id gets the same answer again', async () => {
    const out = await talk(newStore(), [opening, { ...poll, id: 'p1' }, reading, { ...poll, id: 'p1' }]);
    expect(out[3]).toBe(out[1]);
  });
});

describe.concurrent('who speaks', () => {
  it('may change role from line to line, and be another person', async () => {
    const db = newStore();
    const other = { id: 'u2', role: 'technician' };
    const out = await talk(db, [opening, { ...reading, from: technician }, { ...opening, from: other }]);
    expect(new Set(out.map((l) => answered(l).caseId)).size).toBe(1);
    const { state, messages } = kept(db, 'k1') as {
      state: { people: unknown; role: string };
      messages: { person: string; role: string }[];
    };
    expect(state.people).toEqual([homeowner, technician, other]);
    expect(state.role).toBe('technician');
    expect(messages.map((m) => [m.person, m.role])).toEqual([
      ['u1', 'homeowner'],
      ['u1', 'technician'],
      ['u2', 'technician'],
    ]);
  });
});

describe.concurrent('the process', () => {
  it('ends with 0 on empty input, and says nothing', async () => {
    const { code, out, err } = await run(['stdio', '--db', newStore()]);
    expect({ code, out, err }).toEqual({ code: 0, out: '', err: '' });
  });

  const lines = (err: string): string[] => outLines(err);

  it.each<[string, (folder: string) => string]>([
    ['is a folder', (folder) => folder],
    [
      'lies under a file',
      (folder) => {
        writeFileSync(join(folder, 'file'), '');
        return join(folder, 'file', 'cases.db');
      },
    ],
    [
      'is no database',
      (folder) => {
        writeFileSync(join(folder, 'notes.txt'), 'Defrost heater: 21 ohm. '.repeat(100));
        return join(folder, 'notes.txt');
      },
    ],
    ['lies where the system lets no folder be made', () => '/proc/no-such-folder/cases.db'],
  ])('ends with 1 and one clear line when its store %s', async (_, pathIn) => {
    const path = pathIn(newFolder());
    const { code, out, err } = await run(['stdio', '--db', path], jsonLines([text]));
    expect({ code, out }).toEqual({ code: 1, out: '' });
    expect(lines(err)).toHaveLength(1);
    expect(err).toContain(path);
    expect(err).toContain('--db');
  });

  it.each<[string, Record<string, string>]>([
    ['THAWLINE_UNITS', { THAWLINE_UNITS: 'metric' }],
    ['THAWLINE_KEEP_DAYS', { THAWLINE_KEEP_DAYS: 'a week' }],
    ['THAWLINE_CONTACT', { THAWLINE_CONTACT: 'one\ntwo' }],
    ['DISCORD_GUILD_ID', { DISCORD_GUILD_ID: 'our server' }],
    ['DISCORD_API_BASE', { DISCORD_API_BASE: 'somewhere' }],
  ])('ends with 2 and one line that names %s when it is wrong', async (name, env) => {
    const { code, out, err } = await run(['stdio', '--db', newStore()], jsonLines([text]), { env });
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(lines(err)).toHaveLength(1);
    expect(err).toContain(name);
  });

  it('reads its settings from a .env file too', async () => {
    const cwd = newFolder();
    writeFileSync(join(cwd, '.env'), 'THAWLINE_UNITS=metric\n');
    const { code, err } = await run(['stdio', '--db', newStore()], '', { cwd });
    expect(code).toBe(2);
    expect(err).toContain('THAWLINE_UNITS');
  });

  it('ends with 2 when a knowledge folder laid over ours is not there or wrong', async () => {
    const folder = newFolder();
    const missing = await run(['stdio'], '', { env: { THAWLINE_KNOWLEDGE: join(folder, 'none') } });
    expect(missing.code).toBe(2);
    expect(missing.err).toContain(join(folder, 'none'));
    mkdirSync(join(folder, 'faults'));
    writeFileSync(join(folder, 'faults', 'drain-iced.yaml'), 'id: drain-iced\n');
    const wrong = await run(['stdio'], '', { env: { THAWLINE_KNOWLEDGE: folder } });
    expect(wrong.code).toBe(2);
    expect(wrong.err).toContain('drain-iced.yaml');
    expect(lines(wrong.err)).toHaveLength(1);
  });

  it.each([[['stdio', '--dbase', 'x']], [['stdio', 'file.jsonl']], [['study-hard']]])(
    'ends with 2 on %j',
    async (args) => {
      const { code, err } = await run(args);
      expect(code).toBe(2);
      expect(lines(err)).toHaveLength(1);
    },
  );

  it('ends quietly when nobody reads its output', async () => {
    const { child, ended, write } = start(['stdio', '--db', newStore()]);
    child.stdout.destroy();
    for (let i = 0; i < 5; i += 1) write(JSON.stringify(opening));
    const { code, err } = await ended;
    expect({ code, err }).toEqual({ code: 1, err: '' });
  });
});
