/** What a case is known by at any moment: the shape of a state, and the one of a case where nothing has happened yet. */
import type { EscalationKind, Level, Urgency } from '../message/outgoing.js';
import type { FollowUp, Measurement, Question } from './events.js';

export interface Fact {
  readonly values: readonly string[];
  readonly denied: readonly string[];
  readonly notSure: boolean;
  readonly confidence: number;
  readonly from: 'answer' | 'text' | 'rule';
  readonly at: string;
  readonly by: string;
}

export interface Measured extends Measurement {
  readonly at: string;
  readonly by: string;
}

export interface StandingHazard {
  readonly hazard: string;
  readonly level: Level;
  readonly at: string;
  readonly by: string;
  readonly cleared: boolean;
  /** smoke or fire was told: nothing is asked, not even whether the power is off */
  readonly silent: boolean;
}

export interface HandedOver {
  readonly id: string;
  readonly kind: EscalationKind;
  readonly urgency: Urgency;
  readonly createdAt: string;
  readonly state: 'waiting' | 'claimed' | 'closed';
  readonly claimedBy: string | null;
  /** since when it has been in this state */
  readonly since: string;
  /** who at the desk asked the caller something that is not answered yet */
  readonly asked: string | null;
  /** the caller has answered, and nobody at the desk has done anything since */
  readonly answered: boolean;
  /** its waiting was found too long, and said so */
  readonly overdue: boolean;
}

/** Raised with every change of what a state holds: a state kept in another shape is folded anew. */
export const STATE_SHAPE = 4;

export interface CaseState {
  readonly version: number;
  readonly openedAt: string;
  readonly lastAt: string;
  readonly role: 'homeowner' | 'technician' | 'senior';
  readonly people: readonly { readonly id: string; readonly role: string }[];
  readonly units: 'us' | 'si' | null;
  readonly facts: Readonly<Record<string, Fact>>;
  readonly readings: readonly Measured[];
  /** readings that cannot be taken here */
  readonly unmeasurable: readonly string[];
  readonly family: string | null;
  readonly hazards: readonly StandingHazard[];
  /** findings and readings in the order they came, the latest last */
  readonly order: readonly string[];
  /** hazards that were asked about because it was not plain that one was told */
  readonly doubted: readonly string[];
  readonly question: Question | null;
  /** how often each step was asked since something about it changed */
  readonly asked: Readonly<Record<string, number>>;
  /** questions asked in all */
  readonly questions: number;
  readonly told: readonly string[];
  readonly advice: {
    readonly remedy: string;
    readonly fault: string;
    readonly words: 'homeowner' | 'technician';
    readonly at: string;
  } | null;
  readonly failed: readonly {
    readonly remedy: string;
    readonly words: 'homeowner' | 'technician';
    readonly better: boolean;
  }[];
  readonly escalation: HandedOver | null;
  /** what the desk found to be the cause */
  readonly confirmed: { readonly cause: string; readonly at: string } | null;
  readonly personAsked: boolean;
  /** answers in a row that were not understood */
  readonly misunderstood: number;
  readonly closed: boolean;
  readonly closedAs: 'desk' | 'fixed' | 'unanswered' | null;
  /** when a person last spoke */
  readonly heardAt: string;
  /** minutes east of Greenwich on the person's clock */
  readonly offset: { readonly minutes: number; readonly told: boolean } | null;
  /** what the case asked by itself: the last time, and how many of the questions after this advice are done with */
  readonly followUps: {
    readonly last: { readonly about: FollowUp; readonly at: string } | null;
    readonly done: number;
    /** nobody has spoken since */
    readonly unanswered: boolean;
    readonly stopped: boolean;
  };
  readonly photos: readonly { readonly at: string; readonly of: string | null }[];
}

export function newCase(at: string, role: CaseState['role']): CaseState {
  return {
    version: 0,
    openedAt: at,
    lastAt: at,
    role,
    people: [],
    units: null,
    facts: {},
    readings: [],
    unmeasurable: [],
    family: null,
    hazards: [],
    order: [],
    doubted: [],
    question: null,
    asked: {},
    questions: 0,
    told: [],
    advice: null,
    failed: [],
    escalation: null,
    confirmed: null,
    personAsked: false,
    misunderstood: 0,
    closed: false,
    closedAs: null,
    heardAt: at,
    offset: null,
    followUps: { last: null, done: 0, unanswered: false, stopped: false },
    photos: [],
  };
}
