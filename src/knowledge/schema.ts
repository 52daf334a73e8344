/**
 * What a knowledge file may hold. Every kind of file has one strict schema here; the facts that the rest of the
 * product uses are built from them in `facts.ts`. Nothing here opens a file or knows a fault by name.
 */
import { z } from 'zod';

export const id = z.string().regex(/^[a-z0-9]+(?:[.-][a-z0-9]+)*$/, 'lower-case words joined by - or .');
export const line = z.string().trim().min(1);
const lines = z.array(line);

/** Where a number comes from; `published` names an entry of sources.yaml. */
export const sourceKind = z.enum(['published', 'common-practice', 'from-memory']);
const source = { source: sourceKind, ref: id.optional() };

/** A number with its unit and where it comes from. */
export const quantity = z.strictObject({ value: z.number(), unit: line, ...source });
const minutes = z.strictObject({ value: z.number().nonnegative(), unit: z.literal('min'), ...source });

/** The same thing in the words of each reader. A senior reads what a technician reads. */
const bothWords = z.strictObject({ homeowner: line, technician: line });
const bothLines = z.strictObject({ homeowner: lines, technician: lines });

/** A probability as a number, or a word of scale.yaml. */
const chance = z.union([z.number().min(0).max(1), z.string()]);
const row = z.record(z.string(), chance);

/**
 * One table: a default row, then only the rows that differ (a fault, or a system for all its faults). In a row the
 * values that are not named share what is left in proportion to the default row; in a `many` table they are the
 * default's.
 */
export const likelihood = z.strictObject({ ...source, default: row, rows: z.record(id, row) });

/** When something applies: each named finding has (`in`) or has not (`not`) one of the values. */
const conditions = z.record(
  id,
  z.union([z.strictObject({ in: z.array(z.string()).min(1) }), z.strictObject({ not: z.array(z.string()).min(1) })]),
);

/** What must hold before a check can be made. */
const needs = z.strictObject({
  open: z.array(id).default([]),
  power: z.enum(['on', 'off', 'any']).default('any'),
  cold: z.boolean().default(false),
  /** steps whose answer this one cannot be judged without */
  after: z.array(id).default([]),
  /** look: eyes and ears; touch: hands, no cover; panel: a cover comes off; meter: unplugged tests; live: power on, cover off */
  skill: z.enum(['look', 'touch', 'panel', 'meter', 'live']).default('look'),
});

/**
 * Words for a value in free text: `<name>` stands for an entry of a concept in language/. Each phrase occurs in an
 * example. `answers` mean the value only as an answer to this finding's own question ("fine", "at the back").
 */
const phrases = z.strictObject({
  phrases: z.array(line).min(1),
  answers: lines.default([]),
  examples: z.array(line).min(1),
});

const ask = z.strictObject({
  question: line,
  why: line,
  how: lines.default([]),
});
const asks = z.strictObject({ homeowner: ask, technician: ask });

const stepParts = {
  ask: asks,
  minutes,
  applies: conditions.default({}),
  needs: needs.prefault({}),
  /** hours until an answer is worth anything (a mark on a shaft, a thaw watched) */
  wait: z.strictObject({ value: z.number().positive(), unit: z.literal('h'), ...source }).optional(),
};

export const findingFile = z.strictObject({
  id,
  /** symptom: what the unit shows (pairs by noisy-OR); context: what the unit is; act: what was done; person: the one who talks */
  kind: z.enum(['symptom', 'context', 'act', 'person']),
  values: z.array(id).min(2),
  many: z.boolean().default(false),
  /** the value that a sound unit shows; with it two faults together are a noisy-OR */
  healthy: id.optional(),
  name: bothWords,
  ...stepParts,
  choices: z.record(id, bothWords),
  /** asked only as a precondition or after advice, never for its own sake */
  neverPlanned: z.boolean().default(false),
  /** how the answer can still be had when the person does not know it: something to do, then to watch (a thaw) */
  watch: z
    .strictObject({
      ask: asks,
      minutes,
      wait: z.strictObject({ value: z.number().positive(), unit: z.literal('h'), ...source }),
      roles: z.array(z.enum(['homeowner', 'technician', 'senior'])).min(1),
    })
    .optional(),
  likelihood: likelihood.optional(),
  says: z.record(id, phrases),
  /** findings whose phrase says nothing of this one where it stands over one of this one's ("ice at the bottom of the coil") */
  yieldsTo: z.array(id).default([]),
});

export const readingFile = z.strictObject({
  part: id,
  name: bothWords,
  says: phrases,
  quantities: z.partialRecord(
    z.enum(['continuity', 'resistance', 'current', 'voltage', 'temperature', 'relative-humidity', 'thickness']),
    z.strictObject({
      ...stepParts,
      /** what the part can be in, the sound one first; the judge weighs each by what was measured */
      states: z.array(id).min(2),
      healthy: id,
      judge: id,
      /** numbers the judge works with, in SI or with their unit */
      values: z.record(id, quantity),
      likelihood,
      /** why, in one sentence, per outcome of the judge; {value} {low} {high} {at} are filled in */
      why: z.record(id, bothWords),
    }),
  ),
});

const repair = z.strictObject({
  remedy: id,
  action: z.enum(['self-repair', 'technician-visit', 'licensed-technician', 'monitor']),
  /** who comes, where somebody has to: one trade's visit is no help in another's */
  who: z.enum(['appliance-technician', 'electrician', 'certified-technician']).default('appliance-technician'),
  steps: lines.min(1),
  parts: lines.default([]),
  tools: lines.default([]),
  verify: lines.min(1),
  /** hours until it is worth asking how it went */
  askAfter: z.strictObject({ value: z.number().positive(), unit: z.literal('h'), ...source }).optional(),
});

export const faultFile = z.strictObject({
  id,
  system: id,
  licensed: z.boolean().default(false),
  /** always ranked, never concluded */
  concludable: z.boolean().default(true),
  share: z.strictObject({ value: z.number().nonnegative(), unit: z.literal('percent-of-calls'), ...source }),
  name: bothWords,
  what: bothWords,
  shows: bothWords,
  repair: z.strictObject({ homeowner: repair, technician: repair }),
  prevent: bothLines,
  cautions: bothLines,
  onSite: z.strictObject({ firstChecks: lines.min(1), bring: lines, skill: line }),
  examples: lines.min(1),
});

export const hazardFile = z.strictObject({
  id,
  level: z.enum(['stop', 'caution']),
  name: bothWords,
  /** the immediate steps, in order; for a caution: what to do instead */
  now: bothLines,
  /** of a caution: its steps instead, where another danger makes it a stop */
  nowAtStop: bothLines.optional(),
  not: bothLines,
  /** asked before an alarm where it is not plain that this is meant */
  doubt: bothWords,
  /** something a person does, so that asking whether to do it is no alarm yet */
  act: z.boolean().default(false),
  /** whether unit.power may still be asked while it stands */
  askPower: z.boolean().default(true),
  /** what its escalation needs */
  urgency: z.enum(['now', 'today', 'routine']),
  onSite: z.strictObject({ firstChecks: lines, bring: lines, skill: line }),
  source: sourceKind,
  ref: id.optional(),
  phrases: z.array(line).min(1),
  /** look-alikes: where one of these matches over a phrase, no alarm */
  unless: z.array(line).default([]),
  /** joined with one of these hazards it becomes a stop */
  stopWith: z.array(id).default([]),
  /** for a homeowner it is a stop */
  stopFor: z.array(z.enum(['homeowner', 'technician', 'senior'])).default([]),
  examples: lines.min(1),
  harmless: lines.default([]),
});

export const scaleFile = z.record(id, z.number().min(0).max(1));
export const sourcesFile = z.record(id, z.strictObject({ title: line, where: line, read: line }));
export const wordsFile = z.record(id, z.union([line, bothWords]));
export const conceptsFile = z.record(
  id,
  z.strictObject({
    words: z.array(line).min(1),
    not: z.array(line).default([]),
    /** how warm these words say that something is ("room temperature") */
    degrees: z.strictObject({ value: z.number(), unit: z.literal('degC'), ...source }).optional(),
    /**
     * any stretch of time that was said, from this many hours to below that many: "three days", "three days ago", "for
     * three days", or how often ("every three days")
     */
    lasts: z
      .strictObject({
        from: z.number(),
        to: z.number(),
        unit: z.literal('h'),
        how: z.array(z.enum(['plain', 'ago', 'for', 'rate'])).default(['plain']),
        ...source,
      })
      .optional(),
  }),
);

export const accessFile = z.record(
  id,
  z.strictObject({ name: bothWords, minutes, power: z.enum(['on', 'off', 'any']).default('any'), cautions: bothLines }),
);

export const systemsFile = z.record(id, z.strictObject({ name: bothWords, pooled: z.boolean().default(false) }));

/** One fact seen twice: of the members that speak for a cause only the strongest counts, likewise of those against. */
export const witnessesFile = z.record(
  id,
  z.strictObject({
    why: line,
    members: z.array(z.union([id, z.strictObject({ finding: id, values: z.array(id).min(1) })])).min(2),
  }),
);

export const costsFile = z.strictObject({
  /** what each remedy costs the person, in minutes of effort, money counted in */
  remedies: z.record(id, z.strictObject({ homeowner: minutes.optional(), technician: minutes.optional() })),
  /** what a wrong remedy costs on top: time lost, part bought, the talk taken up again */
  wrong: z.strictObject({ homeowner: minutes, technician: minutes }),
  /** the least that a wrong remedy costs on top, beside twice its own minutes; never more than `wrong` */
  wrongAtLeast: minutes,
  /** a technician who comes prepared for another cause: the second trip for the right part */
  otherPart: minutes,
  /** handing over without knowing the cause */
  handOver: z.strictObject({ homeowner: minutes, technician: minutes }),
  /** a hazard of the sealed circuit kept from a certified technician */
  licensedMissed: minutes,
  /** what an hour of waiting for an answer costs, while the person lives on */
  waitHour: quantity,
  /** effort of any question, beside its minutes */
  perQuestion: minutes,
  /** people tire: after so many questions the next one costs twice its effort, and so on */
  tiresAfter: quantity,
  /** a visit for one cause is only named so from this chance on; below it is a hand-over without a cause */
  sureEnough: quantity,
  /** after so many it decides with what it has */
  mostQuestions: quantity,
  /** how likely two faults hold together: their shares multiplied, times this */
  pairs: quantity,
  /** weight of a fact that is witnessed a second time, 0 to 1 */
  repeatedWitness: quantity,
  /** how often the right remedy, done by this person, mends the fault */
  repairWorks: quantity,
  /** a cause counts as ruled out below this probability */
  ruledOutBelow: quantity,
});

export const topicFile = z.strictObject({
  id,
  phrases: z.array(line).min(1),
  examples: lines.min(1),
  answer: bothLines,
  /** tells to do something at the unit: not said while a danger stands */
  handsOn: z.boolean().default(false),
  ...source,
});

/**
 * Sentences that teach the second reader what people say, one a line, under what they mean: `finding=value`, `talk=act`
 * or `topic=id`, several joined by ", ", or `nothing`. `said` at any time, `asked` as an answer to the finding's question.
 */
export const sentencesFile = z.strictObject({
  said: z.record(z.string(), line).default({}),
  asked: z.record(z.string(), line).default({}),
});

export type Needs = z.output<typeof needs>;
export type Conditions = z.output<typeof conditions>;
export type BothWords = z.output<typeof bothWords>;
export type BothLines = z.output<typeof bothLines>;
export type Phrases = z.output<typeof phrases>;
