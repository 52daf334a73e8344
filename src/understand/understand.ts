/**
 * Words or a tap into findings, readings and requests, or "unclear". It proposes; it never writes an event, judges a
 * reading or hears danger, which is done before it on the raw words.
 */
import type { CaseState } from '../case/state.js';
import { wordsFor, type Knowledge, type Role } from '../knowledge/facts.js';
import { read, type Match } from '../message/phrases.js';
import { offeredBy, pickedFrom } from './answers.js';
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

export function understand(knowledge: Knowledge, state: CaseState, role: Role, raw: string): Understanding {
  const text = read(raw);
  const matches = matcherOf(knowledge).find(text);
  const talk = talkOf(actMatches(matches), text.tokens.length);
  const question = state.question;
  const words = wordsFor(role);

  let found: FoundValue[] = findingsOf(knowledge, text, matches, talk.at('hedge'));
  let notSure = false;
  let picked: string | null = null;
  if (question?.finding) {
    const offered = offeredBy(knowledge, question.finding, words);
    const own = found.filter((f) => f.finding === question.finding);
    if (question.kind === 'confirm') {
      picked = confirmed(talk, question.value, own);
      if (picked === null && own.length === 0 && offered)
        picked = (pickedFrom(raw, offered, talk) ?? [null])[0] ?? null;
      if (picked === 'not-sure') notSure = true;
      else if (picked)
        found = [...found.filter((f) => f.finding !== question.finding), answered(question.finding, picked)];
    } else if (offered) {
      const answer = pickedFrom(raw, offered, talk);
      const short = text.tokens.length <= 6;
      if (answer && (own.length === 0 || (short && exact(raw, offered.values)))) {
        if (answer[0] === 'not-sure') notSure = own.length === 0;
        else
          found = [
            ...found.filter((f) => f.finding !== question.finding),
            ...answer.map((v) => answered(question.finding ?? '', v)),
          ];
      }
    }
  } else if (question?.about)
    picked =
      talk.acts.has('yes') === talk.acts.has('no')
        ? unitPicked(raw, question.about)
        : talk.acts.has('yes')
          ? 'yes'
          : 'no';

  const { readings, unitless, durationHours } = measuredIn(
    knowledge,
    text,
    matches,
    question?.reading ?? null,
    state.units,
  );
  if (question?.reading && talk.acts.has('not-sure') && readings.length === 0) notSure = true;
  found = withReturnTime(knowledge, text.text, found, durationHours, question?.finding ?? null);

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
    (a) => a !== 'domain' && a !== 'hedge' && a !== 'other-appliance' && a !== 'yes' && a !== 'no',
  );
  const unclear = nothing && !steering;
  return {
    found,
    readings,
    notSure,
    picked,
    acts: talk.acts,
    topic,
    family: family?.owner.kind === 'family' ? family.owner.family : null,
    unitless,
    correction: talk.acts.has('correction'),
    offTopic: unclear && !talk.acts.has('domain') && (text.tokens.length >= 4 || talk.acts.has('other-appliance')),
    unclear,
  };
}

const answered = (finding: string, value: string): FoundValue => ({
  finding,
  value,
  denied: false,
  confidence: 1,
  span: null,
});

const exact = (raw: string, values: readonly string[]): boolean =>
  /^\W*\d\W*$/.test(raw) || values.includes(raw.trim().toLowerCase());

function confirmed(talk: Talk, value: string | null, own: readonly FoundValue[]): string | null {
  const said = own.find((f) => !f.denied);
  if (said) return said.value;
  if (talk.acts.has('not-sure')) return 'not-sure';
  if (talk.acts.has('yes') && !talk.acts.has('no')) return value;
  return null;
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

const CAME_BACK = /\b(?:came|come|comes|coming|back|return\w*|again|re-?froze|refreez\w*|build\w* (?:back )?up)\b/;

/** "It was back in three days": a duration beside a return is frost.return-time. */
function withReturnTime(
  knowledge: Knowledge,
  text: string,
  found: readonly FoundValue[],
  hours: number | null,
  asked: string | null,
): FoundValue[] {
  const id = 'frost.return-time';
  const kept = [...found];
  if (hours === null || !knowledge.findings.has(id)) return kept;
  if (asked !== id && !CAME_BACK.test(text.toLowerCase())) return kept;
  const value = hours < 24 ? 'hours' : hours < 240 ? 'days' : hours < 1400 ? 'weeks' : 'months';
  return [
    ...kept.filter((f) => f.finding !== id),
    { finding: id, value, denied: false, confidence: asked === id ? 1 : 0.9, span: null },
  ];
}
