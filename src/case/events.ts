/**
 * A case is what happened in it. This room holds its events and the state folded from them; it decides nothing.
 * Events are facts in the past tense and never change; words a person wrote stand beside them in the store, so that
 * they can be erased without touching a fact.
 */
import { z } from 'zod';
import { escalationKind, level, urgency } from '../message/outgoing.js';

const at = z.string();
const by = z.string();
const number = z.union([z.number(), z.enum(['OL', 'closed', 'open'])]);

/** A reading as it is kept: SI (ohm, V, A, degC, m, %). */
const measurement = z.strictObject({
  part: z.string(),
  quantity: z.enum(['continuity', 'resistance', 'current', 'voltage', 'temperature', 'relative-humidity', 'thickness']),
  value: number,
  unit: z.string().nullable(),
  atC: z.number().nullable(),
  atAssumed: z.boolean(),
  settledMinutes: z.number().nullable(),
  sheet: z.strictObject({ value: z.number(), unit: z.string(), atC: z.number().nullable() }).nullable(),
  rating: z
    .union([
      z.strictObject({ power: z.number(), voltage: z.number() }),
      z.strictObject({ opensC: z.number(), differentialC: z.number() }),
      /** two numbers stamped on a thermostat, as they stand there; the unit where it has one */
      z.strictObject({ mark: z.tuple([z.number(), z.number()]), unit: z.enum(['degC', 'degF']).nullable() }),
      z.strictObject({ voltage: z.number() }),
    ])
    .nullable(),
  curve: z.string().nullable(),
});
export type Measurement = z.output<typeof measurement>;

/** What was asked last: a finding, a reading, or something about the talk itself (`about`). */
const question = z.strictObject({
  kind: z.enum(['choice', 'measurement', 'confirm']),
  finding: z.string().nullable(),
  reading: z.string().nullable(),
  about: z.string().nullable(),
  /** for a confirm: the value understood, and the one it would replace */
  value: z.string().nullable(),
  was: z.string().nullable(),
  notBefore: z.string().nullable(),
});
export type Question = z.output<typeof question>;

const event = z.discriminatedUnion('type', [
  z.strictObject({ type: z.literal('opened'), at, by, role: z.string() }),
  z.strictObject({
    type: z.literal('heard'),
    at,
    by,
    role: z.enum(['homeowner', 'technician', 'senior']),
    kind: z.string(),
  }),
  z.strictObject({
    type: z.literal('found'),
    at,
    by,
    finding: z.string(),
    values: z.array(z.string()),
    denied: z.array(z.string()),
    notSure: z.boolean(),
    confidence: z.number(),
    from: z.enum(['answer', 'text', 'rule']),
    /** the new values replace the old ones, or are added to them */
    replace: z.boolean(),
  }),
  z.strictObject({
    type: z.literal('withdrawn'),
    at,
    by,
    finding: z.string().nullable(),
    reading: z.string().nullable(),
    values: z.array(z.string()),
  }),
  z.strictObject({ type: z.literal('measured'), at, by, measurement }),
  z.strictObject({ type: z.literal('unmeasurable'), at, by, reading: z.string() }),
  z.strictObject({ type: z.literal('family-named'), at, by, family: z.string() }),
  z.strictObject({ type: z.literal('hazard-raised'), at, by, hazard: z.string(), level, silent: z.boolean() }),
  z.strictObject({
    type: z.literal('hazard-cleared'),
    at,
    by,
    hazard: z.string(),
    how: z.enum(['taken-back', 'technician']),
  }),
  z.strictObject({ type: z.literal('asked'), at, question }),
  z.strictObject({ type: z.literal('told'), at, key: z.string() }),
  z.strictObject({ type: z.literal('units-chosen'), at, by, units: z.enum(['us', 'si']) }),
  z.strictObject({
    type: z.literal('advised'),
    at,
    remedy: z.string(),
    fault: z.string(),
    words: z.enum(['homeowner', 'technician']),
  }),
  z.strictObject({ type: z.literal('advice-dropped'), at }),
  z.strictObject({
    type: z.literal('repair-failed'),
    at,
    by,
    remedy: z.string(),
    words: z.enum(['homeowner', 'technician']),
    better: z.boolean(),
  }),
  z.strictObject({ type: z.literal('escalated'), at, id: z.string(), kind: escalationKind, urgency }),
  z.strictObject({ type: z.literal('escalation-raised'), at, kind: escalationKind, urgency }),
  z.strictObject({ type: z.literal('escalation-ended'), at, by, how: z.enum(['closed', 'fixed']) }),
  z.strictObject({ type: z.literal('person-asked'), at, by }),
  z.strictObject({ type: z.literal('misunderstood'), at }),
  z.strictObject({ type: z.literal('closed'), at, by, why: z.enum(['desk', 'fixed', 'unanswered']) }),
  z.strictObject({ type: z.literal('reopened'), at, by }),
]);
export const caseEvent = event;
export type CaseEvent = z.output<typeof event>;
