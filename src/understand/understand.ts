/**
 * Words or a tap into findings, readings and requests, or "unclear". It proposes; it never writes an event, judges a
 * reading or hears danger, which is done before it on the raw words.
 */
import type { Question } from '../case/events.js';
import type { CaseState } from '../case/state.js';
import type { Knowledge, Role } from '../knowledge/facts.js';
import type { Match, ReadText } from '../message/phrases.js';
import { tokenise } from '../message/text.js';
import { replyTo, type Asked, type Reply } from './answers.js';
import { stretchesIn } from './durations.js';
import { answersOf, matcherOf, type Meaning } from './ear.js';
import { findingsOf, type FoundValue } from './findings.js';
import { measuredIn, type MeasuredText } from './measured.js';
import { isAnotherLanguage, isBeside, isOffTopic, isOfTrade, withoutQuestions } from './scope.js';
import { likelyTalk, speaksOfElsewhere } from './likely-talk.js';
import { likelyIn } from './second-reader.js';
import { answeredByLikeness, withSecond } from './two-readers.js';
import { QUESTIONS, talkOf, type Act, type Talk } from './talk.js';

export interface Understanding {
  readonly found: readonly FoundValue[];
  /** what may have been said: worth one short question */
  readonly doubtful: readonly { readonly finding: string; readonly value: string }[];
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

  const byPhrases = findingsOf(knowledge, text, matches, talk.at('hedge'), correction || (asked ?? false), (finding) =>
    answersOf(knowledge, finding).find(text),
  );
  const likely = likelyIn(knowledge, text, asked, byPhrases);
  const { found: volunteered, doubtful: said } = withSecond(knowledge, text, byPhrases, likely, asked);
  const heard: Reply = asked
    ? replyTo(knowledge, askedOf(state, asked), role, text, volunteered, talk)
    : { found: volunteered, notSure: false };
  const { found, half } =
    asked && !talk.acts.has('not-sure') && !correction
      ? answeredByLikeness(knowledge, text, heard, likely, asked)
      : { found: heard.found, half: null };
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

  const likelyTo = likelyTalk(knowledge, likely);
  const heardNothing = found.length === 0 && readings.length === 0 && !notSure && picked === null;
  const steered = [...talk.acts].some((a) => !SAYS_NOTHING.includes(a));
  const byLikeness = heardNothing && !steered ? likelyTo : { act: null, topic: null };
  const foreign = likelyTo.foreign && !talk.acts.has('domain');
  const topic = foreign ? null : (topicOf(text, matches, talk) ?? byLikeness.topic);
  const family = matches.find((m) => m.owner.kind === 'family');
  const nothing =
    found.length === 0 &&
    readings.length === 0 &&
    (!notSure || foreign || isBeside(text, talk)) &&
    picked === null &&
    topic === null &&
    unitless === null &&
    !family;
  const anotherLanguage = nothing && isAnotherLanguage(text, talk);
  const steers = [...talk.acts, ...(topic === null && byLikeness.act ? [byLikeness.act] : [])].filter(
    (a) => !SAYS_NOTHING.includes(a),
  );
  const byWords = isOffTopic(text, talk, question !== null && asksSomething(question));
  const offTopic =
    nothing &&
    !anotherLanguage &&
    byLikeness.act === null &&
    (foreign || steers.every((a) => QUESTIONS.includes(a)) || isBeside(text, talk)) &&
    (talk.acts.has('domain') ? byWords : speaksOfElsewhere(byWords, likelyTo));
  const doubtful = offTopic || notSure ? [] : [half ?? [], said].flat();
  const unclear = nothing && doubtful.length === 0 && (offTopic || anotherLanguage || steers.length === 0);
  const acts = new Set(offTopic ? withoutQuestions(talk.acts) : [...talk.acts, ...steers]);
  acts.delete('another-language');
  if (anotherLanguage) acts.add('another-language');
  return {
    found: found.map(({ finding, value, denied, confidence, span }) => ({ finding, value, denied, confidence, span })),
    doubtful: doubtful
      .filter((d) => !found.some((f) => f.finding === d.finding))
      .map(({ finding, value }) => ({ finding, value })),
    readings,
    notSure,
    picked,
    acts,
    topic,
    family: family?.owner.kind === 'family' ? family.owner.family : null,
    unitless,
    correction,
    offTopic,
    unclear,
  };
}

/** Acts that do not steer the talk by themselves. */
const SAYS_NOTHING: readonly Act[] = [
  'domain',
  'near-domain',
  'another-language',
  'hedge',
  'not-done-yet',
  'other-appliance',
  'yes',
  'no',
];

const asksSomething = (q: Question): boolean => q.finding !== null || q.reading !== null || q.about !== null;

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

/** The topic whose phrase took the most words; about our trade, or about nothing else that is named. */
function topicOf(text: ReadText, matches: readonly Match<Meaning>[], talk: Talk): string | null {
  const topics = matches.flatMap((m) => (m.owner.kind === 'topic' ? [{ ...m, topic: m.owner.topic }] : []));
  let best: { readonly topic: string; readonly words: number } | null = null;
  for (const m of topics) {
    const words = m.taken.length + m.weight / 100;
    if (!best || words > best.words) best = { topic: m.topic, words };
  }
  return best && isOfTrade(text, talk, topics) ? best.topic : null;
}
