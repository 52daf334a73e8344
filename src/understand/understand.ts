/**
 * Words or a tap into findings, readings and requests, or "unclear". It proposes; it never writes an event, judges a
 * reading or hears danger, which is done before it on the raw words.
 */
import type { CaseState } from '../case/state.js';
import type { Knowledge, Role } from '../knowledge/facts.js';
import type { Match, ReadText } from '../message/phrases.js';
import { tokenise } from '../message/text.js';
import { replyTo, type Asked, type Reply } from './answers.js';
import { stretchesIn } from './durations.js';
import { matcherOf, type Meaning } from './ear.js';
import { findingsOf, type FoundValue } from './findings.js';
import { measuredIn, type MeasuredText } from './measured.js';
import { talkOf, type Act, type Talk } from './talk.js';

export interface Understanding {
  readonly found: readonly FoundValue[];
  readonly readings: readonly MeasuredText[];
  /** the finding or reading asked about, answered with "not sure" */
  readonly notSure: boolean;
  /** the question about the talk itself, answered with one of its choices */
  readonly picked: string | null;
  readonly acts: ReadonlySet<Act>;
  readonly topic: string | null;
  readonly family: string | null;
  /** bare degrees: Celsius or Fahrenheit has to be asked */
  readonly unitless: number | null;
  readonly correction: boolean;
  readonly offTopic: boolean;
  readonly unclear: boolean;
}

export function understand(
  knowledge: Knowledge,
  state: CaseState,
  role: Role,
  raw: string,
  at: string | null = null,
): Understanding {
  const tokens = tokenise(raw);
  const text: ReadText = { text: raw, tokens, stretches: stretchesIn(tokens, at) };
  const matches = matcherOf(knowledge).find(text);
  const talk = talkOf(actMatches(matches), tokens.length);
  const question = state.question;
  const asked = question?.finding ?? null;
  const correction = talk.acts.has('correction');

  const volunteered = findingsOf(knowledge, text, matches, talk.at('hedge'), correction || (asked ?? false));
  const heard: Reply = asked
    ? replyTo(knowledge, askedOf(state, asked), role, text, volunteered, talk)
    : { found: volunteered, notSure: false };
  const { found } = heard;
  let { notSure } = heard;
  const picked = question?.about ? pickedOf(question.about, raw, talk) : null;

  const { readings, unitless } = measuredIn(
    knowledge,
    text,
    matches,
    question?.reading ?? null,
    state.units,
    lastReading(state),
  );
  if (question?.reading && talk.acts.has('not-sure') && readings.length === 0) notSure = true;

  const topic = topicOf(matches);
  const family = matches.find((m) => m.owner.kind === 'family');
  const nothing =
    found.length === 0 &&
    readings.length === 0 &&
    !notSure &&
    picked === null &&
    topic === null &&
    unitless === null &&
    !family;
  const steering = [...talk.acts].some(
    (a) =>
      a !== 'domain' && a !== 'hedge' && a !== 'not-done-yet' && a !== 'other-appliance' && a !== 'yes' && a !== 'no',
  );
  const unclear = nothing && !steering;
  return {
    found: found.map(({ finding, value, denied, confidence, span }) => ({ finding, value, denied, confidence, span })),
    readings,
    notSure,
    picked,
    acts: talk.acts,
    topic,
    family: family?.owner.kind === 'family' ? family.owner.family : null,
    unitless,
    correction,
    offTopic: unclear && !talk.acts.has('domain') && (tokens.length >= 4 || talk.acts.has('other-appliance')),
    unclear,
  };
}

function askedOf(state: CaseState, finding: string): Asked {
  const { question } = state;
  const confirms = question?.kind === 'confirm';
  return {
    finding,
    value: confirms ? question.value : null,
    was: confirms ? question.was : null,
    known: state.facts[finding]?.values ?? [],
  };
}

/** The answer to a question about the talk itself. */
/** The reading taken last, if nothing else was told since. */
function lastReading(state: CaseState): string | null {
  const latest = state.order.at(-1);
  return latest !== undefined && !(latest in state.facts) ? latest : null;
}

function pickedOf(about: string, raw: string, talk: Talk): string | null {
  if (talk.acts.has('yes') === talk.acts.has('no')) return unitPicked(raw, about);
  return talk.acts.has('yes') ? 'yes' : 'no';
}

/** "celsius" or "f" to the question which scale. */
function unitPicked(raw: string, about: string): string | null {
  if (about !== 'degrees') return null;
  if (/\b(?:c|celsius|celcius|centigrade)\b/i.test(raw)) return 'celsius';
  return /\b(?:f|fahrenheit|farenheit)\b/i.test(raw) ? 'fahrenheit' : null;
}

function actMatches(matches: readonly Match<Meaning>[]): Match<Act>[] {
  return matches.flatMap((m) => (m.owner.kind === 'act' ? [{ ...m, owner: m.owner.act }] : []));
}

function topicOf(matches: readonly Match<Meaning>[]): string | null {
  let best: { topic: string; weight: number } | null = null;
  for (const m of matches)
    if (m.owner.kind === 'topic' && (!best || m.weight > best.weight))
      best = { topic: m.owner.topic, weight: m.weight };
  return best?.topic ?? null;
}
