/**
 * What comes in, for every channel. This room holds the contract of a message and the plainest reading of its words
 * (normal form, clauses, negation); it decides nothing about what is meant.
 */
import { z } from 'zod';

export const role = z.enum(['homeowner', 'technician', 'senior']);

export const UNITS = [
  'ohm',
  'kohm',
  'Mohm',
  'V',
  'mV',
  'A',
  'mA',
  'degC',
  'degF',
  'K',
  '%',
  'm',
  'cm',
  'mm',
  'in',
] as const;
const unit = z.enum(UNITS);
export type Unit = z.output<typeof unit>;

/** UTF-16 units */
export const MAX_TEXT = 4000;
const name = z.string().min(1).max(100);
const finite = z.number();
const celsius = z.number().min(-273.15).max(2000);

const head = {
  case: name,
  from: z.strictObject({ id: name, role }),
  id: z.string().min(1).max(200).optional(),
  at: z.iso.datetime({ offset: true }).optional(),
};

const sheet = z.strictObject({ value: z.number().positive(), unit, atC: celsius.optional() });
const rating = z.union([
  z.strictObject({ power: z.number().positive(), voltage: z.number().positive() }),
  z.strictObject({ opensC: celsius, differentialC: z.number().positive().max(300) }),
  z.strictObject({ voltage: z.number().positive() }),
]);

/** A measured value as the front end states it; the judge's preconditions are checked later. */
export const readingIn = z.strictObject({
  part: name,
  quantity: z.enum(['continuity', 'resistance', 'current', 'voltage', 'temperature', 'relative-humidity', 'thickness']),
  value: z.union([finite, z.enum(['OL', 'closed', 'open'])]),
  unit: unit.optional(),
  atC: celsius.optional(),
  settledMinutes: z.number().nonnegative().max(100_000).optional(),
  sheet: sheet.optional(),
  rating: rating.optional(),
  curve: name.optional(),
});
export type ReadingIn = z.output<typeof readingIn>;

export const answerIn = z.strictObject({ finding: name, value: z.union([name, z.array(name).min(1).max(30)]) });

const text = z
  .string()
  .transform((t) => t.trim())
  .pipe(z.string().min(1).max(MAX_TEXT));
const textForSchema = z.string().min(1).max(MAX_TEXT);

const shapes = {
  text: z.strictObject({ ...head, text }),
  answer: z.strictObject({ ...head, answer: answerIn }),
  reading: z.strictObject({ ...head, reading: readingIn }),
  poll: z.strictObject({ ...head, poll: z.literal(true) }),
} as const;

/** The four shapes as one union, for the JSON Schema. */
export const lineIn = z.union([
  z.strictObject({ ...head, text: textForSchema }),
  shapes.answer,
  shapes.reading,
  shapes.poll,
]);

type Line = z.output<(typeof shapes)[keyof typeof shapes]>;
/** What one message says. */
export type Said =
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'answer'; readonly finding: string; readonly value: string | readonly string[] }
  | { readonly kind: 'reading'; readonly reading: ReadingIn }
  | { readonly kind: 'poll' }
  /** nothing but photos */
  | { readonly kind: 'photos' };

export interface Incoming {
  readonly conversation: string;
  readonly from: { readonly id: string; readonly role: 'homeowner' | 'technician' | 'senior' };
  readonly id: string | null;
  /** ISO 8601 with offset, or null for now */
  readonly at: string | null;
  readonly said: Said;
  /** where the channel keeps the photos that came with it; they are looked at by nobody but a person */
  readonly photos?: readonly string[];
}

export interface InvalidInput {
  readonly field: string;
  readonly message: string;
}

export type LineResult =
  { readonly ok: true; readonly incoming: Incoming } | { readonly ok: false; readonly error: InvalidInput };

/** One parsed JSON value into a message, or the one field that is wrong. */
export function readLine(data: unknown): LineResult {
  if (data === null || typeof data !== 'object' || Array.isArray(data)) return refuse('', 'expected one JSON object');
  const kinds = (Object.keys(shapes) as (keyof typeof shapes)[]).filter((k) => Object.hasOwn(data, k));
  if (kinds.length !== 1)
    return refuse(
      kinds[1] ?? 'text',
      kinds.length === 0
        ? 'expected one of text, answer, reading, poll'
        : `only one of text, answer, reading, poll may stand in a line; this has ${kinds.join(' and ')}`,
    );
  const kind = kinds[0] as keyof typeof shapes;
  const result = shapes[kind].safeParse(data);
  if (!result.success) return { ok: false, error: firstIssue(result.error) };
  return { ok: true, incoming: incomingOf(result.data) };
}

function incomingOf(line: Line): Incoming {
  const said: Said =
    'text' in line
      ? { kind: 'text', text: line.text }
      : 'answer' in line
        ? { kind: 'answer', finding: line.answer.finding, value: line.answer.value }
        : 'reading' in line
          ? { kind: 'reading', reading: line.reading }
          : { kind: 'poll' };
  return { conversation: line.case, from: line.from, id: line.id ?? null, at: line.at ?? null, said };
}

/** Of unknown keys said back, so that an error stays one short line. */
const MOST_NAMED = 3;
const LONGEST_NAMED = 60;

function firstIssue(error: z.ZodError): InvalidInput {
  const issue = error.issues[0];
  if (!issue) return { field: '', message: 'not valid' };
  if (issue.code === 'unrecognized_keys') {
    const field = [...issue.path, issue.keys[0] ?? ''].join('.');
    const named = issue.keys.slice(0, MOST_NAMED).map((key) => `"${key.slice(0, LONGEST_NAMED)}"`);
    return { field, message: `unknown key ${named.join(', ')}` };
  }
  if (issue.code === 'invalid_union' && issue.errors.length > 0) {
    const nearest = [...issue.errors].sort((a, b) => a.length - b.length)[0]?.[0];
    const keys = nearest?.code === 'unrecognized_keys' ? [nearest.keys[0] ?? ''] : [];
    const path = [...issue.path, ...(nearest?.path ?? []), ...keys];
    return { field: path.join('.'), message: nearest?.message ?? issue.message };
  }
  return { field: issue.path.join('.'), message: issue.message };
}

function refuse(field: string, message: string): LineResult {
  return { ok: false, error: { field, message } };
}
