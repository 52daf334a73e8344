/**
 * The knowledge as frozen, typed facts. A step is one of them: one thing that may be asked or measured.
 * This room decides what is known, never what is done with it.
 */
import type { z } from 'zod';
import type * as schema from './schema.js';
import type { BothLines, BothWords, Conditions, Needs, Phrases } from './schema.js';
import type { curveFile } from './curve-schema.js';
import type { defrostFile, placesFile } from './frost-schema.js';
import type { studyFile } from './study-schema.js';
import type { hearingFile, lessonFile } from './lesson-schema.js';
import type { unitFile } from './unit-schema.js';
import type { waitsFile } from './waits-schema.js';

export type Role = 'homeowner' | 'technician' | 'senior';
/** Whose words: a senior reads what a technician reads. */
export type Words = 'homeowner' | 'technician';
export const wordsFor = (role: Role): Words => (role === 'homeowner' ? 'homeowner' : 'technician');

export type Fault = z.output<typeof schema.faultFile>;
export type Remedy = Fault['repair']['homeowner'];
export type Hazard = z.output<typeof schema.hazardFile>;
/** The immediate steps of a hazard as it stands: a caution that another danger made a stop may have others. */
export const stepsAt = (hazard: Hazard, level: 'stop' | 'caution', words: Words): readonly string[] =>
  (level === 'stop' ? (hazard.nowAtStop ?? hazard.now) : hazard.now)[words];
type Topic = z.output<typeof schema.topicFile>;
type Quantity = z.output<typeof schema.quantity>;
export type Curve = z.output<typeof curveFile>;
export type UnitFamily = z.output<typeof unitFile>;
type Places = z.output<typeof placesFile>;
type Defrost = z.output<typeof defrostFile>;
type Study = z.output<typeof studyFile>;
type Waits = z.output<typeof waitsFile>;
type Lesson = z.output<typeof lessonFile>;
type Hearing = z.output<typeof hearingFile>;

/** P(value | fault): one row a fault, in the order of `Knowledge.faultIds`; `base` is the row of a cause elsewhere. */
export interface Table {
  readonly base: Float64Array;
  readonly rows: readonly Float64Array[];
}

/** One thing that may be asked or measured: a finding, or a reading's `part.quantity`. */
export interface Step {
  readonly id: string;
  readonly about: 'finding' | 'reading';
  readonly kind: 'symptom' | 'context' | 'act' | 'person';
  /** a finding's values; a reading's states of the part */
  readonly values: readonly string[];
  readonly many: boolean;
  /** index of the value that a sound unit shows, -1 where there is none */
  readonly healthy: number;
  readonly name: BothWords;
  readonly ask: { readonly homeowner: Ask; readonly technician: Ask };
  /** minutes of the person's time, without what must be opened first */
  readonly minutes: number;
  readonly applies: Conditions;
  readonly needs: Needs;
  /** hours before an answer is worth anything, 0 where at once */
  readonly waitHours: number;
  readonly planned: boolean;
  readonly table: Table | null;
}

export interface Ask {
  readonly question: string;
  readonly why: string;
  readonly how: readonly string[];
}

/** How an answer can still be had when the person does not know it: something to do, then to watch. */
export interface Watch {
  readonly ask: Step['ask'];
  readonly minutes: number;
  readonly waitHours: number;
  readonly roles: readonly Role[];
}

export interface Finding extends Step {
  readonly about: 'finding';
  readonly watch: Watch | null;
  readonly choices: Readonly<Record<string, BothWords>>;
  readonly says: Readonly<Record<string, Phrases>>;
  /** findings over whose phrases one of these counts for nothing */
  readonly yieldsTo: readonly string[];
}

export interface Reading extends Step {
  readonly about: 'reading';
  readonly part: string;
  readonly quantity: QuantityName;
  readonly judge: string;
  readonly numbers: Readonly<Record<string, Quantity>>;
  readonly why: Readonly<Record<string, BothWords>>;
}

export type QuantityName =
  'continuity' | 'resistance' | 'current' | 'voltage' | 'temperature' | 'relative-humidity' | 'thickness';

export interface Part {
  readonly id: string;
  readonly name: BothWords;
  readonly says: Phrases;
  readonly quantities: readonly QuantityName[];
}

export interface Access {
  readonly id: string;
  readonly name: BothWords;
  readonly minutes: number;
  readonly power: 'on' | 'off' | 'any';
  readonly cautions: BothLines;
}

export interface Costs {
  /** minutes of effort, money counted in */
  readonly remedy: (remedy: string, words: Words) => number;
  readonly wrong: Readonly<Record<Words, number>>;
  readonly wrongAtLeast: number;
  readonly otherPart: number;
  readonly handOver: Readonly<Record<Words, number>>;
  readonly licensedMissed: number;
  readonly waitHour: number;
  readonly perQuestion: number;
  readonly tiresAfter: number;
  readonly mostQuestions: number;
  readonly sureEnough: number;
  readonly pairs: number;
  readonly repeatedWitness: number;
  readonly repairWorks: number;
  readonly ruledOutBelow: number;
}

/** One member of a group of facts that witness the same thing: a step, or only some of its values. */
export interface Witness {
  readonly step: string;
  readonly values: readonly string[] | null;
}

/** A name for many words, or for a stretch of time; where an entry of `not` stands over the words, they mean something else. */
export interface Concept {
  readonly words: readonly string[];
  readonly not: readonly string[];
  /** how warm the words say that something is, degC */
  readonly degrees?: { readonly value: number } | undefined;
  /** any stretch of time that was said, in hours, by how it was said */
  readonly lasts?:
    | { readonly from: number; readonly to: number; readonly how: readonly ('plain' | 'ago' | 'for' | 'rate')[] }
    | undefined;
}
export type Concepts = ReadonlyMap<string, Concept>;

/** A sentence that teaches what people say. */
export interface Sentence {
  readonly text: string;
  /** `finding=value`, `talk=act` or `topic=id`; none where it says nothing of use */
  readonly labels: readonly string[];
  /** the finding whose question it answers, null where it is said by itself */
  readonly asked: string | null;
}

export interface Knowledge {
  readonly hash: string;
  readonly faultIds: readonly string[];
  readonly faults: ReadonlyMap<string, Fault>;
  readonly systems: ReadonlyMap<string, { readonly name: BothWords; readonly pooled: boolean }>;
  readonly findings: ReadonlyMap<string, Finding>;
  readonly readings: ReadonlyMap<string, Reading>;
  readonly parts: ReadonlyMap<string, Part>;
  /** findings and readings together */
  readonly steps: ReadonlyMap<string, Step>;
  readonly hazards: ReadonlyMap<string, Hazard>;
  /** sentences that the second opinion on dangers learns from, by hazard; `ordinary`: those of none */
  readonly lessons: ReadonlyMap<string, Lesson>;
  readonly topics: ReadonlyMap<string, Topic>;
  readonly access: ReadonlyMap<string, Access>;
  readonly costs: Costs;
  readonly witnesses: ReadonlyMap<string, readonly Witness[]>;
  readonly concepts: Concepts;
  readonly sentences: readonly Sentence[];
  readonly words: ReadonlyMap<string, BothWords>;
  readonly curves: ReadonlyMap<string, Curve>;
  /** how much frost a place has room for, and what a thaw takes */
  readonly places: Places;
  /** what one defrost can melt, and when the next comes */
  readonly defrost: Defrost;
  /** how long an escalation and a quiet case may wait */
  readonly waits: Waits;
  /** made-up callers, and what they are compared with */
  readonly study: Study;
  /** how sure the second opinion on dangers has to be */
  readonly hearing: Hearing;
  readonly units: ReadonlyMap<string, UnitFamily>;
  readonly sources: ReadonlyMap<string, { readonly title: string; readonly where: string; readonly read: string }>;
}
