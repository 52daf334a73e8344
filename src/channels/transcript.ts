/** A demo transcript: a talk in an invented scenario, with what must be understood, asked, concluded or handed over. */
import { z } from 'zod';
import { answerIn, readingIn, role } from '../message/incoming.js';
import { action, escalationKind, level, status, urgency, verdict } from '../message/outgoing.js';

const text = z.string().trim().min(1);
const value = z.union([text, z.array(text).min(1)]);
const measured = readingIn.omit({ part: true, quantity: true });

/** What must hold after a step; only what is named is checked. */
const expectation = z.strictObject({
  understood: z.record(text, value).optional(),
  denied: z.record(text, value).optional(),
  withdrawn: z.record(text, text).optional(),
  hazards: z.record(text, level).optional(),
  readings: z
    .array(z.strictObject({ part: text, quantity: text.optional(), verdict, against: text.optional() }))
    .optional(),
  asks: z
    .union([text, z.array(text).min(1)])
    .nullable()
    .optional(),
  offTopic: z.boolean().optional(),
  wantsPerson: z.boolean().optional(),
  status: status.optional(),
  likeliest: value.optional(),
  conclusion: z
    .strictObject({ fault: value.optional(), system: text.optional(), action: action.optional() })
    .nullable()
    .optional(),
  escalation: z.strictObject({ kind: escalationKind.optional(), urgency: urgency.optional() }).nullable().optional(),
  says: z.array(text).optional(),
  neverSays: z.array(text).optional(),
});
export type Expectation = z.output<typeof expectation>;

const shared = { expect: expectation.optional(), as: role.optional(), note: text.optional() };

const step = z.union([
  z.strictObject({ says: text, ...shared }),
  z.strictObject({ answers: answerIn, ...shared }),
  z.strictObject({ reads: readingIn, ...shared }),
  /** answers whatever is asked from `knows`, until nothing is asked or a conclusion stands */
  z.strictObject({ goesOn: z.literal(true), ...shared }),
  /** hours pass */
  z.strictObject({ waits: z.number().positive(), note: text.optional() }),
]);
export type Step = z.output<typeof step>;

export const transcript = z.strictObject({
  title: text,
  /** says that it is invented, and where it plays */
  scenario: text,
  role,
  starts: z.iso.datetime({ offset: true }).default('2026-03-02T18:30:00-05:00'),
  contact: text.optional(),
  /** what this caller can answer when asked; what is missing is answered not-sure */
  knows: z.record(text, z.union([text, z.array(text).min(1), measured])).default({}),
  steps: z.array(step).min(1),
});
export type Transcript = z.output<typeof transcript>;
