/**
 * The labelled language sets: what people write, and what a careful human listener takes from it. The format is
 * described in held-out/README.md. Nothing here understands anything.
 */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'yaml';
import { z } from 'zod';

const role = z.enum(['homeowner', 'technician', 'senior']);
const values = z.union([z.string(), z.array(z.string())]).transform((v) => (Array.isArray(v) ? v : [v]));
const valuesByFinding = z.record(z.string(), values);

const utterance = z.strictObject({
  text: z.string(),
  role,
  asked: z.string().optional(),
  choices: z.array(z.string()).optional(),
  means: valuesByFinding,
  denied: valuesByFinding.default({}),
  hedged: z.array(z.string()).default([]),
  may: valuesByFinding.default({}),
});
const measurement = z.strictObject({
  text: z.string(),
  asked: z.string().optional(),
  readings: z.array(
    z.strictObject({
      part: z.string(),
      quantity: z.string(),
      value: z.union([z.number(), z.enum(['OL', 'open', 'closed'])]),
      unit: z.string().optional(),
      atC: z.number().optional(),
    }),
  ),
  'ask-unit': z.boolean().default(false),
});
const alarm = z.strictObject({
  text: z.string(),
  hazard: values,
  situation: z.string(),
  may: values.default([]),
});
const lookAlike = z.strictObject({ text: z.string(), why: z.string() });
const talkAct = z.strictObject({ text: z.string(), act: z.string() });

export type Utterance = z.output<typeof utterance>;
export type LabelledReading = z.output<typeof measurement>;
export type Alarm = z.output<typeof alarm>;
export type LookAlike = z.output<typeof lookAlike>;
export type TalkAct = z.output<typeof talkAct>;

export interface LabelledSet {
  readonly findings: readonly Utterance[];
  readonly readings: readonly LabelledReading[];
  readonly hazards: readonly Alarm[];
  readonly harmless: readonly LookAlike[];
  readonly talk: readonly TalkAct[];
}

/** Reads one set; a label that does not fit its format throws with its place. */
export function readSet(folder: string): LabelledSet {
  return {
    findings: readList(folder, 'findings.yaml', utterance),
    readings: readList(folder, 'readings.yaml', measurement),
    hazards: readList(folder, 'hazards.yaml', alarm),
    harmless: readList(folder, 'harmless.yaml', lookAlike),
    talk: readList(folder, 'talk.yaml', talkAct),
  };
}

function readList<T>(folder: string, name: string, entry: z.ZodType<T>): T[] {
  const path = join(folder, name);
  if (!existsSync(path)) return [];
  const parsed: unknown = parse(readFileSync(path, 'utf8'));
  const checked = z.array(entry).safeParse(parsed);
  if (!checked.success) throw new Error(`${path}: ${z.prettifyError(checked.error)}`);
  return checked.data;
}
