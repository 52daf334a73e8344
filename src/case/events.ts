/**
 * A case is what happened in it. This room holds its events and the state folded from them; it decides nothing but
 * when a case asks by itself how it went.
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
/** Two numbers stamped on a thermostat, kept as they stand. */
export type Mark = Extract<Measurement['rating'], { mark: unknown }>;

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

/** What a case asks about by itself. */
const followUp = z.enum(['temperatures', 'frost', 'quiet']);
export type FollowUp = z.output<typeof followUp>;

/** Words that a person wrote; null once they are erased. */
const words = z.string().nullable();

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
  z.strictObject({ type: z.literal('claimed'), at, by }),
  z.strictObject({ type: z.literal('desk-asked'), at, by, text: words }),
  z.strictObject({ type: z.literal('desk-answered'), at, by, text: words }),
  z.strictObject({ type: z.literal('handed-back'), at, by, text: words }),
  /** a fault, `something-else`, or `not-found` */
  z.strictObject({ type: z.literal('cause-confirmed'), at, by, cause: z.string(), fixed: words, parts: words }),
  z.strictObject({ type: z.literal('overdue'), at, urgency }),
  z.strictObject({ type: z.literal('person-asked'), at, by }),
  z.strictObject({ type: z.literal('misunderstood'), at }),
  z.strictObject({ type: z.literal('closed'), at, by, why: z.enum(['desk', 'fixed', 'unanswered']) }),
  z.strictObject({ type: z.literal('reopened'), at, by }),
  /** what was believed when advice was given or the case handed over */
  z.strictObject({
    type: z.literal('believed'),
    at,
    ranking: z.array(z.strictObject({ fault: z.string(), probability: z.number() })),
  }),
  /** `place`: which of the questions after the advice, from 0; null for a quiet case */
  z.strictObject({ type: z.literal('followed-up'), at, about: followUp, place: z.number().nullable() }),
  z.strictObject({ type: z.literal('follow-ups-stopped'), at, by }),
  /** the person's clock, in minutes east of Greenwich: as they told it, or as the front end's times show it */
  z.strictObject({ type: z.literal('offset-known'), at, by, minutes: z.number(), told: z.boolean() }),
  /** `ref`: where the channel keeps it; `of`: what was being asked then */
  z.strictObject({ type: z.literal('photo-kept'), at, by, ref: words, of: z.string().nullable() }),
  /** somebody was taken out of the case: whoever works from an earlier version of it starts again */
  z.strictObject({ type: z.literal('erased'), at }),
]);
export const caseEvent = event;
export type CaseEvent = z.output<typeof event>;

/** The fields of each event that hold a person's own words: the store keeps them apart, so that they can be erased. */
export const WORDS: Readonly<Record<string, readonly string[]>> = {
  'desk-asked': ['text'],
  'desk-answered': ['text'],
  'handed-back': ['text'],
  'cause-confirmed': ['fixed', 'parts'],
  'photo-kept': ['ref'],
};

/** What is left of an event that tells of its person alone, once that person is erased. */
export const WHEN_ERASED: Readonly<Record<string, object>> = {
  'offset-known': { minutes: 0, told: false },
};

/** What the people of a case are told of when it happened while they were away. */
export type News = Extract<
  CaseEvent,
  { type: 'claimed' | 'desk-asked' | 'handed-back' | 'hazard-cleared' | 'cause-confirmed' | 'overdue' | 'followed-up' }
>;

export function isNews(e: CaseEvent): e is News {
  if (e.type === 'hazard-cleared') return e.how === 'technician';
  if (e.type === 'overdue') return e.urgency === 'now';
  return NEWS.has(e.type);
}
const NEWS: ReadonlySet<string> = new Set(['claimed', 'desk-asked', 'handed-back', 'cause-confirmed', 'followed-up']);
