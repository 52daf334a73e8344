/** The schemas as `thawline schema` prints them, read by a validator of JSON Schema draft 2020-12 that is not ours. */
import { Ajv2020, type ValidateFunction } from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';
import * as fc from 'fast-check';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { run } from '../../src/commands/schema.js';
import { readLine } from '../../src/message/incoming.js';

afterEach(() => void vi.restoreAllMocks());

async function printed(...args: string[]): Promise<Record<string, object>> {
  let text = '';
  const write = vi.spyOn(process.stdout, 'write').mockImplementation((chunk) => {
    text += String(chunk);
    return true;
  });
  expect(await run(args)).toBe(0);
  write.mockRestore();
  return JSON.parse(text) as Record<string, object>;
}

async function validator(word: 'in' | 'out' | 'escalation'): Promise<ValidateFunction> {
  const ajv = new Ajv2020({ strict: true, allErrors: true, allowUnionTypes: true });
  addFormats.default(ajv);
  return ajv.compile(await printed(word));
}

const validIn = await validator('in');
const validOut = await validator('out');
const validSummary = await validator('escalation');

const from = { id: 'u1', role: 'homeowner' };
const head = { case: 'k1', from };
const reading = { part: 'defrost-sensor', quantity: 'resistance', value: 5.4, unit: 'kohm', atC: 22.8 };

/** An answer with nothing in it: every key is there, lists are empty, the rest is null. */
const empty = {
  case: 'k1',
  caseId: 'ABCD2345',
  understood: [],
  withdrawn: [],
  readings: [],
  hazards: [],
  notes: [],
  offTopic: false,
  wantsPerson: false,
  reply: 'Where do you see frost?',
  status: 'open',
  ranking: [{ fault: 'something-else', probability: 1 }],
  pairs: [],
  ask: null,
  conclusion: null,
  escalation: null,
};

describe('the schemas', () => {
  it('are three, of the draft of 2020-12, together or one by one', async () => {
    const all = await printed();
    expect(Object.keys(all)).toEqual(['in', 'out', 'escalation']);
    for (const word of ['in', 'out', 'escalation']) {
      expect(await printed(word)).toEqual(all[word]);
      expect(all[word]).toMatchObject({ $schema: 'https://json-schema.org/draft/2020-12/schema' });
    }
  });

  it.each([[['inward']], [['in', 'out']]])('refuse %j, naming what there is', async (args) => {
    await expect(run(args)).rejects.toThrow('in, out or escalation');
  });
});

describe('the schema of a line in', () => {
  it.each<[string, object]>([
    ['text', { text: 'frost on the back wall' }],
    ['answer', { answer: { finding: 'frost.location', value: 'freezer-back-wall' } }],
    ['reading', { reading }],
    ['poll', { poll: true }],
    ['several values', { answer: { finding: 'frost.location', value: ['freezer-floor', 'door-edge'] } }],
    ['not sure of a reading', { answer: { finding: 'defrost-sensor.resistance', value: 'not-sure' } }],
    ['over-limit', { reading: { ...reading, value: 'OL' } }],
    ['continuity', { reading: { part: 'defrost-thermostat', quantity: 'continuity', value: 'closed', atC: -20 } }],
    ['a sheet', { reading: { ...reading, sheet: { value: 5400, unit: 'ohm', atC: 22.8 } } }],
    ['a heater rating', { reading: { ...reading, rating: { power: 450, voltage: 115 } } }],
    ['a thermostat rating', { reading: { ...reading, rating: { opensC: 10, differentialC: 12 } } }],
    ['id and time', { text: 'a', id: 'm1', at: '2026-03-02T18:30:00-05:00' }],
  ])('takes %s', (_, said) => {
    expect(validIn({ ...head, ...said }), JSON.stringify(validIn.errors)).toBe(true);
  });

  it.each<[string, object]>([
    ['nothing said', head],
    ['two things said', { ...head, text: 'a', poll: true }],
    ['an unknown key', { ...head, text: 'a', extra: 1 }],
    ['an unknown key inside', { ...head, reading: { ...reading, celsius: 20 } }],
    ['no case', { from, text: 'a' }],
    ['an empty case', { ...head, case: '', text: 'a' }],
    ['a case of 101 characters', { ...head, case: 'x'.repeat(101), text: 'a' }],
    ['no speaker', { case: 'k1', text: 'a' }],
    ['an unknown role', { case: 'k1', from: { id: 'u1', role: 'owner' }, text: 'a' }],
    ['empty text', { ...head, text: '' }],
    ['text of 4,001 characters', { ...head, text: 'x'.repeat(4001) }],
    ['a time without offset', { ...head, text: 'a', at: '2026-03-02T18:30:00' }],
    ['an unknown unit', { ...head, reading: { ...reading, unit: 'kOhm' } }],
    ['a number in quotes', { ...head, reading: { ...reading, value: '5.4' } }],
    ['an unknown quantity', { ...head, reading: { ...reading, quantity: 'pressure' } }],
    ['half a rating', { ...head, reading: { ...reading, rating: { power: 450 } } }],
    ['a poll of false', { ...head, poll: false }],
    ['an empty list', { ...head, answer: { finding: 'frost.location', value: [] } }],
  ])('refuses %s, as the program does', (_, line) => {
    expect(validIn(line)).toBe(false);
    expect(readLine(line).ok).toBe(false);
  });

  it('agrees with the program on any line whose text has no space around it', () => {
    const word = fc.string({ unit: 'grapheme-ascii', maxLength: 6 }).map((s) => s.trim());
    const odd = fc.oneof(word, fc.integer(), fc.constant(null), fc.constant(true), fc.constant([]), fc.constant({}));
    const often = <T>(good: fc.Arbitrary<T>): fc.Arbitrary<unknown> =>
      fc.oneof({ weight: 6, arbitrary: good }, { weight: 1, arbitrary: odd });
    const line = fc.record(
      {
        case: often(word),
        from: often(fc.record({ id: often(word), role: often(fc.constantFrom('homeowner', 'technician', 'senior')) })),
        id: often(word),
        at: often(fc.constantFrom('2026-03-02T18:30:00-05:00', '2026-03-02T18:30:00Z', '2026-03-02')),
        text: often(word),
        answer: often(
          fc.record({ finding: often(word), value: often(fc.oneof(word, fc.array(word, { maxLength: 3 }))) }),
        ),
        reading: often(
          fc.record(
            {
              part: often(word),
              quantity: often(fc.constantFrom('resistance', 'continuity', 'voltage')),
              value: often(
                fc.oneof(fc.double({ noNaN: true, noDefaultInfinity: true }), fc.constantFrom('OL', 'closed', 'open')),
              ),
              unit: often(fc.constantFrom('ohm', 'kohm', 'V')),
              atC: often(fc.double({ min: -300, max: 2100, noNaN: true })),
              settledMinutes: often(fc.double({ min: -5, max: 200_000, noNaN: true })),
              rating: often(fc.record({ power: often(fc.integer()), voltage: often(fc.integer()) })),
            },
            { requiredKeys: ['part', 'quantity', 'value'] },
          ),
        ),
        poll: often(fc.constant(true)),
        extra: odd,
      },
      { requiredKeys: ['case', 'from'] },
    );
    let taken = 0;
    const kinds = ['text', 'answer', 'reading', 'poll'] as const;
    fc.assert(
      fc.property(line, fc.constantFrom(...kinds), fc.boolean(), (whole, kind, one) => {
        const data: Record<string, unknown> = { ...whole };
        if (one) for (const k of [...kinds, 'extra']) if (k !== kind) delete data[k];
        const ours = readLine(data).ok;
        taken += Number(ours);
        expect(validIn(data), JSON.stringify(data)).toBe(ours);
      }),
      { numRuns: 2000 },
    );
    expect(taken).toBeGreaterThan(50);
  });
});

describe('the schema of a line out', () => {
  it('takes an answer and an error', () => {
    expect(validOut(empty), JSON.stringify(validOut.errors)).toBe(true);
    expect(validOut({ error: { code: 'invalid-input', field: 'text', message: 'too long' } })).toBe(true);
    expect(validOut({ error: { code: 'store-unavailable', field: '', message: 'no room' } })).toBe(true);
  });

  it.each(Object.keys(empty).map((key) => [key]))('wants the key %s', (key) => {
    expect(validOut({ ...empty, [key]: undefined })).toBe(false);
    const without: Record<string, unknown> = { ...empty };
    delete without[key];
    expect(validOut(without)).toBe(false);
  });

  it.each<[string, object]>([
    ['a key of its own', { ...empty, extra: 1 }],
    ['a probability above 1', { ...empty, ranking: [{ fault: 'drain-iced', probability: 1.2 }] }],
    ['an unknown status', { ...empty, status: 'waiting' }],
    ['an unknown error code', { error: { code: 'oops', field: '', message: 'x' } }],
    ['an error beside an answer', { ...empty, error: { code: 'invalid-input', field: '', message: 'x' } }],
    ['a question half said', { ...empty, ask: { finding: 'frost.kind', text: 'x' } }],
    ['a pair of three', { ...empty, pairs: [{ faults: ['a', 'b', 'c'], probability: 0.1 }] }],
  ])('refuses %s', (_, line) => {
    expect(validOut(line)).toBe(false);
  });
});

describe('the schema of the escalation summary', () => {
  it('is the one inside a line out', () => {
    const summary = {
      id: 'e1',
      caseId: 'ABCD2345',
      createdAt: '2026-03-02T18:30:00-05:00',
      kind: 'hazard',
      urgency: 'now',
      state: 'waiting',
      claimedBy: null,
      situation: 'A burning smell.',
      safety: {
        hazards: [{ hazard: 'burning-smell', level: 'stop', at: '2026-03-02T18:30:00-05:00' }],
        powerOff: 'unknown',
        waterOff: 'unknown',
        toldNotToDo: ['Do not turn it on.'],
      },
      background: { unit: null, room: null, history: null, done: null, contact: null },
      assessment: { ranking: [], pairs: [], readings: [], ruledOut: [], notChecked: [], conflicts: [] },
      recommendation: { why: 'A danger.', firstChecks: [], bring: [], skill: 'Appliance technician.' },
      transcript: 'thawline export ABCD2345',
    };
    expect(validSummary(summary), JSON.stringify(validSummary.errors)).toBe(true);
    expect(validOut({ ...empty, status: 'escalated', escalation: summary })).toBe(true);
    for (const wrong of [
      { urgency: 'soon' },
      { kind: 'fire' },
      { state: 'open' },
      { situation: undefined },
      { extra: 1 },
    ])
      expect(validSummary({ ...summary, ...wrong })).toBe(false);
  });
});
