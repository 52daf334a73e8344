import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readLine, UNITS, type LineResult } from '../../src/message/incoming.js';

const from = { id: 'u1', role: 'homeowner' };
const head = { case: 'k1', from };
const reading = { part: 'defrost-sensor', quantity: 'resistance', value: 5.4, unit: 'kohm', atC: 22.8 };

const text = (over: object): LineResult => readLine({ ...head, text: 'frost on the back wall', ...over });
const measured = (over: object): LineResult => readLine({ ...head, reading: { ...reading, ...over } });

/** The field an error names, or null where the line is taken. */
function fieldOf(result: LineResult): string | null {
  if (result.ok) return null;
  expect(result.error.message).not.toBe('');
  return result.error.field;
}

describe('a line in', () => {
  it('takes the four kinds', () => {
    expect(readLine({ ...head, text: 'frost on the back wall' })).toEqual({
      ok: true,
      incoming: {
        conversation: 'k1',
        from,
        id: null,
        at: null,
        said: { kind: 'text', text: 'frost on the back wall' },
      },
    });
    const answer = { finding: 'frost.location', value: 'freezer-back-wall' };
    expect(readLine({ ...head, answer })).toMatchObject({
      ok: true,
      incoming: { said: { kind: 'answer', ...answer } },
    });
    expect(readLine({ ...head, reading })).toMatchObject({
      ok: true,
      incoming: { said: { kind: 'reading', reading } },
    });
    expect(readLine({ ...head, poll: true })).toMatchObject({ ok: true, incoming: { said: { kind: 'poll' } } });
  });

  it.each([[null], [[]], ['text'], [7], [true]])('refuses %j, which is no object', (data) => {
    const result = readLine(data);
    expect(fieldOf(result)).toBe('');
    expect(result).toMatchObject({ error: { message: expect.stringContaining('one JSON object') as string } });
  });

  it('wants exactly one of text, answer, reading, poll, and says which it has', () => {
    const none = readLine(head);
    expect(none).toMatchObject({
      ok: false,
      error: { message: expect.stringContaining('text, answer, reading, poll') as string },
    });
    const two = readLine({ ...head, text: 'a', poll: true });
    expect(fieldOf(two)).toBe('poll');
    expect(two).toMatchObject({ error: { message: expect.stringContaining('text and poll') as string } });
    expect(fieldOf(readLine({ ...head, answer: {}, reading, poll: true }))).toBe('reading');
  });

  it.each<[string, object]>([
    ['extra', { extra: 1 }],
    ['Text', { Text: 'x' }],
    ['from.name', { from: { ...from, name: 'x' } }],
    ['caseId', { caseId: 'K1' }],
  ])('names the unknown key %s', (field, over) => {
    const result = text(over);
    expect(fieldOf(result)).toBe(field);
    expect(result).toMatchObject({ error: { message: expect.stringContaining('unknown key') as string } });
  });

  it('names an unknown key that JSON makes look like a prototype', () => {
    const line: unknown = JSON.parse(
      '{"case":"k1","from":{"id":"u1","role":"homeowner"},"text":"x","__proto__":{"role":"senior"}}',
    );
    expect(fieldOf(readLine(line))).toBe('__proto__');
  });

  it.each<[string, object]>([
    ['answer.why', { answer: { finding: 'frost.kind', value: 'soft-snow', why: 'x' } }],
    ['reading.celsius', { reading: { ...reading, celsius: 20 } }],
    [
      'reading.sheet.tolerance',
      { reading: { ...reading, sheet: { value: 5, unit: 'kohm', atC: 22.8, tolerance: 1 } } },
    ],
    ['reading.rating.watts', { reading: { ...reading, rating: { power: 450, voltage: 115, watts: 450 } } }],
  ])('names the unknown key %s', (field, said) => {
    expect(fieldOf(readLine({ ...head, ...said }))).toBe(field);
  });

  it('wants a case name of 1 to 100 characters', () => {
    expect(fieldOf(text({ case: 'x'.repeat(100) }))).toBeNull();
    for (const wrong of ['', 'x'.repeat(101), 7, null, undefined]) expect(fieldOf(text({ case: wrong }))).toBe('case');
  });

  it('wants to know who speaks, in one of the three roles', () => {
    for (const role of ['homeowner', 'technician', 'senior'])
      expect(text({ from: { id: 'u1', role } })).toMatchObject({ ok: true, incoming: { from: { role } } });
    expect(fieldOf(text({ from: undefined }))).toBe('from');
    expect(fieldOf(text({ from: 'u1' }))).toBe('from');
    expect(fieldOf(text({ from: { role: 'homeowner' } }))).toBe('from.id');
    expect(fieldOf(text({ from: { id: '', role: 'homeowner' } }))).toBe('from.id');
    expect(fieldOf(text({ from: { id: 'u1' } }))).toBe('from.role');
    expect(fieldOf(text({ from: { id: 'u1', role: 'owner' } }))).toBe('from.role');
  });

  it('takes an id, or none', () => {
    expect(text({ id: 'm1' })).toMatchObject({ ok: true, incoming: { id: 'm1' } });
    expect(text({})).toMatchObject({ ok: true, incoming: { id: null } });
    for (const wrong of ['', 7, null]) expect(fieldOf(text({ id: wrong }))).toBe('id');
  });

  // ISO 8601 with a UTC offset: RFC 3339, section 5.6
  it.each([
    '2026-03-02T18:30:00-05:00',
    '2026-03-02T18:30:00Z',
    '2026-03-02T18:30:00.123+05:30',
    '2024-02-29T00:00:00Z',
  ])('takes the time %s', (at) => {
    expect(text({ at })).toMatchObject({ ok: true, incoming: { at } });
  });

  it.each([
    '2026-03-02T18:30:00',
    '2026-03-02',
    '18:30',
    '2026-02-30T10:00:00Z',
    '2026-03-02T25:00:00Z',
    'yesterday',
    '',
    1772494200,
  ])('refuses the time %s', (at) => {
    expect(fieldOf(text({ at }))).toBe('at');
  });

  describe('text', () => {
    it('is trimmed, and has 1 to 4,000 characters then', () => {
      expect(text({ text: '  frost \n' })).toMatchObject({ incoming: { said: { text: 'frost' } } });
      expect(fieldOf(text({ text: `  ${'x'.repeat(4000)}  ` }))).toBeNull();
      for (const wrong of ['', '  \n\t ', 'x'.repeat(4001), 7, null, ['a']])
        expect(fieldOf(text({ text: wrong }))).toBe('text');
    });
  });

  describe('poll', () => {
    it.each([false, 'true', 1, null, {}])('is true and nothing else: %j', (poll) => {
      expect(fieldOf(readLine({ ...head, poll }))).toBe('poll');
    });
  });

  describe('an answer', () => {
    const answer = (over: object): LineResult =>
      readLine({ ...head, answer: { finding: 'frost.kind', value: 'soft-snow', ...over } });

    it('takes one value or a list', () => {
      expect(fieldOf(answer({ value: 'not-sure' }))).toBeNull();
      expect(answer({ value: ['soft-snow', 'hard-white'] })).toMatchObject({
        incoming: { said: { value: ['soft-snow', 'hard-white'] } },
      });
    });

    it('names what is missing or of the wrong kind', () => {
      expect(fieldOf(readLine({ ...head, answer: 'soft-snow' }))).toBe('answer');
      expect(fieldOf(answer({ finding: undefined }))).toBe('answer.finding');
      expect(fieldOf(answer({ finding: '' }))).toBe('answer.finding');
      for (const wrong of [undefined, null, 7, '', [], [7]])
        expect(fieldOf(answer({ value: wrong }))).toMatch(/^answer\.value/);
    });
  });

  describe('a reading', () => {
    it.each(UNITS.map((unit) => [unit]))('takes the unit %s', (unit) => {
      expect(measured({ unit })).toMatchObject({ ok: true });
    });

    it.each([['kOhm'], ['F'], ['C'], ['ft'], [''], [7], [null]])('refuses the unit %j', (unit) => {
      expect(fieldOf(measured({ unit }))).toBe('reading.unit');
    });

    it('takes a number, OL, closed and open, and no number in quotes', () => {
      for (const value of [0, -3.5, 1e6, 'OL', 'closed', 'open']) expect(fieldOf(measured({ value }))).toBeNull();
      for (const wrong of ['5.4', 'ol', 'Open', '', null, true, [5], Number.NaN, Infinity, undefined])
        expect(fieldOf(measured({ value: wrong }))).toBe('reading.value');
    });

    it('may leave the unit out', () => {
      expect(fieldOf(measured({ quantity: 'continuity', value: 'closed', unit: undefined }))).toBeNull();
    });

    it('names the part, the quantity, the temperature and the minutes', () => {
      expect(fieldOf(readLine({ ...head, reading: 5.4 }))).toBe('reading');
      expect(fieldOf(measured({ part: undefined }))).toBe('reading.part');
      expect(fieldOf(measured({ quantity: 'pressure' }))).toBe('reading.quantity');
      for (const wrong of ['22.8', null, -274]) expect(fieldOf(measured({ atC: wrong }))).toBe('reading.atC');
      for (const wrong of ['5', -1])
        expect(fieldOf(measured({ settledMinutes: wrong }))).toBe('reading.settledMinutes');
      expect(fieldOf(measured({ settledMinutes: 0 }))).toBeNull();
      expect(fieldOf(measured({ curve: '' }))).toBe('reading.curve');
    });

    it('takes a sheet with a value, a unit and the temperature it stands for', () => {
      const sheet = { value: 5400, unit: 'ohm', atC: 22.8 };
      expect(fieldOf(measured({ sheet }))).toBeNull();
      expect(fieldOf(measured({ sheet: 5400 }))).toBe('reading.sheet');
      expect(fieldOf(measured({ sheet: { ...sheet, value: undefined } }))).toBe('reading.sheet.value');
      expect(fieldOf(measured({ sheet: { ...sheet, value: -1 } }))).toBe('reading.sheet.value');
      expect(fieldOf(measured({ sheet: { ...sheet, unit: 'ohms' } }))).toBe('reading.sheet.unit');
      expect(fieldOf(measured({ sheet: { ...sheet, atC: 'warm' } }))).toBe('reading.sheet.atC');
    });

    it('takes the rating of a heater, a thermostat or a supply, and no mixture', () => {
      for (const rating of [{ power: 450, voltage: 115 }, { opensC: 10, differentialC: 12 }, { voltage: 120 }])
        expect(fieldOf(measured({ rating }))).toBeNull();
      for (const wrong of [
        {},
        { power: 450 },
        { power: 450, voltage: 115, opensC: 10 },
        { power: 0, voltage: 115 },
        450,
        null,
      ])
        expect(fieldOf(measured({ rating: wrong }))).toMatch(/^reading\.rating/);
    });
  });

  it('answers any JSON at all, and never takes a line that says two things', () => {
    const kinds = ['text', 'answer', 'reading', 'poll'];
    const part = fc.oneof(
      fc.jsonValue(),
      fc.constant(from),
      fc.constant(true),
      fc.constant('k1'),
      fc.constant(reading),
    );
    const keys = fc.constantFrom('case', 'from', 'id', 'at', ...kinds, 'x', 'constructor');
    fc.assert(
      fc.property(fc.oneof(fc.jsonValue(), fc.dictionary(keys, part)), (data) => {
        const result = readLine(data);
        if (!result.ok) {
          expect(typeof result.error.field).toBe('string');
          expect(result.error.message.length).toBeGreaterThan(0);
        } else expect(kinds.filter((k) => Object.hasOwn(data as object, k))).toEqual([result.incoming.said.kind]);
      }),
      { numRuns: 500 },
    );
  });
});
