/** What goes out, for every channel: one answer a message. The keys and their meaning are fixed. */
import { z } from 'zod';

const probability = z.number().min(0).max(1);
const iso = z.string();
const nullable = <T extends z.ZodType>(t: T): z.ZodNullable<T> => t.nullable();

export const verdict = z.enum(['good', 'bad', 'inconclusive']);
const against = z.enum(['sheet', 'rating', 'curve', 'case', 'common-practice']);
export const level = z.enum(['stop', 'caution']);
export const action = z.enum(['self-repair', 'technician-visit', 'licensed-technician', 'monitor']);
export const escalationKind = z.enum(['hazard', 'sealed-system', 'visit', 'asked-for-person', 'stuck']);
export const urgency = z.enum(['now', 'today', 'routine']);
export const status = z.enum(['open', 'advised', 'escalated', 'closed']);

const expected = z.union([
  z.strictObject({ low: z.number(), high: z.number(), unit: z.string() }),
  z.strictObject({ state: z.enum(['closed', 'open', 'either']) }),
]);

export const readingOut = z.strictObject({
  part: z.string(),
  quantity: z.string(),
  value: z.union([z.number(), z.enum(['OL', 'closed', 'open'])]),
  unit: nullable(z.string()),
  atC: nullable(z.number()),
  atAssumed: z.boolean(),
  verdict,
  expected: nullable(expected),
  against,
  why: z.string(),
});

const ranking = z.array(z.strictObject({ fault: z.string(), probability }));
const pairs = z.array(z.strictObject({ faults: z.array(z.string()).length(2), probability }));

const ask = z.strictObject({
  finding: nullable(z.string()),
  reading: nullable(z.string()),
  text: z.string(),
  why: z.string(),
  choices: z.array(z.strictObject({ value: z.string(), label: z.string() })),
  kind: z.enum(['choice', 'measurement', 'confirm']),
  notBefore: nullable(iso),
});

const conclusion = z.strictObject({
  fault: z.string(),
  system: z.string(),
  probability,
  systemProbability: probability,
  action,
  steps: z.array(z.string()),
  parts: z.array(z.string()),
  tools: z.array(z.string()),
  verify: z.array(z.string()),
  prevent: z.array(z.string()),
  cautions: z.array(z.string()),
});

const yesNo = z.enum(['yes', 'no', 'unknown']);
const text = nullable(z.string());

export const escalation = z.strictObject({
  id: z.string(),
  caseId: z.string(),
  createdAt: iso,
  kind: escalationKind,
  urgency,
  state: z.enum(['waiting', 'claimed', 'closed']),
  claimedBy: text,
  situation: z.string(),
  safety: z.strictObject({
    hazards: z.array(z.strictObject({ hazard: z.string(), level, at: iso })),
    powerOff: yesNo,
    waterOff: yesNo,
    toldNotToDo: z.array(z.string()),
  }),
  background: z.strictObject({ unit: text, room: text, history: text, done: text, contact: text }),
  assessment: z.strictObject({
    ranking,
    pairs,
    readings: z.array(readingOut),
    ruledOut: z.array(z.strictObject({ fault: z.string(), because: z.string() })),
    notChecked: z.array(z.strictObject({ finding: text, reading: text, text: z.string() })),
    conflicts: z.array(z.strictObject({ between: z.array(z.string()), text: z.string() })),
  }),
  recommendation: z.strictObject({
    why: z.string(),
    firstChecks: z.array(z.string()),
    bring: z.array(z.string()),
    skill: z.string(),
  }),
  transcript: z.string(),
});

const answerOut = z.strictObject({
  case: z.string(),
  caseId: z.string(),
  understood: z.array(
    z.strictObject({
      finding: z.string(),
      value: z.string(),
      denied: z.boolean(),
      confidence: probability,
      span: nullable(z.string()),
    }),
  ),
  withdrawn: z.array(
    z.strictObject({ finding: text, reading: text, value: z.union([z.string(), z.number(), z.null()]) }),
  ),
  readings: z.array(readingOut),
  hazards: z.array(z.strictObject({ hazard: z.string(), level })),
  notes: z.array(z.strictObject({ at: iso, from: z.enum(['desk', 'follow-up']), text: z.string() })),
  offTopic: z.boolean(),
  wantsPerson: z.boolean(),
  reply: z.string(),
  status,
  ranking,
  pairs,
  ask: nullable(ask),
  conclusion: nullable(conclusion),
  escalation: nullable(escalation),
});

export const lineOut = z.union([
  answerOut,
  z.strictObject({
    error: z.strictObject({
      code: z.enum(['invalid-input', 'store-unavailable']),
      field: z.string(),
      message: z.string(),
    }),
  }),
]);

export type Answer = z.output<typeof answerOut>;
export type AskOut = z.output<typeof ask>;
export type Conclusion = z.output<typeof conclusion>;
export type Escalation = z.output<typeof escalation>;
export type ReadingOut = z.output<typeof readingOut>;
export type Understood = Answer['understood'][number];
export type Withdrawn = Answer['withdrawn'][number];
export type Expected = z.output<typeof expected>;
export type Verdict = z.output<typeof verdict>;
export type Against = z.output<typeof against>;
export type Level = z.output<typeof level>;
export type EscalationKind = z.output<typeof escalationKind>;
export type Urgency = z.output<typeof urgency>;
export type Status = z.output<typeof status>;
