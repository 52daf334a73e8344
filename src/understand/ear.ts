/** The matchers of one knowledge folder, built once: findings, talk acts, topics, parts, unit families; and answers. */
import type { Knowledge } from '../knowledge/facts.js';
import { matcherFor, spellerOf, type Matcher } from '../message/phrases.js';
import type { Speller } from '../message/spelling.js';
import { SHOWN, type Shown } from './shown.js';
import { ACTS, type Act } from './talk.js';

export type Meaning =
  | {
      readonly kind: 'finding';
      readonly finding: string;
      readonly value: string;
      /** `~`: only beside a denied or corrected one of its finding, or as an answer */
      readonly weak: boolean;
      /** `?`: only where no other value of its finding is said */
      readonly general: boolean;
    }
  | { readonly kind: 'act'; readonly act: Act }
  | { readonly kind: 'topic'; readonly topic: string }
  | { readonly kind: 'part'; readonly part: string }
  | { readonly kind: 'family'; readonly family: string }
  | { readonly kind: 'shown'; readonly shown: Shown }
  | { readonly kind: 'warmth'; readonly concept: string };
export type FindingMeaning = Extract<Meaning, { kind: 'finding' }>;

interface Ear {
  readonly speller: Speller;
  readonly matcher: Matcher<Meaning>;
  readonly answers: Map<string, Matcher<FindingMeaning>>;
}

const ears = new WeakMap<Knowledge, Ear>();

function earOf(knowledge: Knowledge): Ear {
  let ear = ears.get(knowledge);
  if (!ear) {
    const entries = [...entriesOf(knowledge)];
    const answers = [...knowledge.findings.values()].flatMap((f) => Object.values(f.says).flatMap((s) => s.answers));
    const ordinary = knowledge.concepts.get('talk.ordinary-words')?.words ?? [];
    const speller = spellerOf([...entries.map((e) => e.phrase), ...answers], knowledge.concepts, ordinary);
    ear = { speller, matcher: matcherFor(entries, knowledge.concepts, speller), answers: new Map() };
    ears.set(knowledge, ear);
  }
  return ear;
}

/** Mends spelling towards the words of all phrases. */
export const spellerOfEar = (knowledge: Knowledge): Speller => earOf(knowledge).speller;

export const matcherOf = (knowledge: Knowledge): Matcher<Meaning> => earOf(knowledge).matcher;

/** What means a value of this finding only because it was asked. */
export function answersOf(knowledge: Knowledge, finding: string): Matcher<FindingMeaning> {
  const ear = earOf(knowledge);
  let matcher = ear.answers.get(finding);
  if (!matcher) {
    const says = Object.entries(knowledge.findings.get(finding)?.says ?? {});
    const entries = says.flatMap(([value, { answers }]) =>
      answers.map((phrase) => ({
        owner: { kind: 'finding', finding, value, weak: false, general: false } as const,
        phrase,
      })),
    );
    ear.answers.set(finding, (matcher = matcherFor(entries, knowledge.concepts, ear.speller)));
  }
  return matcher;
}

const isPhrase = (entry: string): boolean => /[|&<]|\.\.\./.test(entry);

function* entriesOf(knowledge: Knowledge): Iterable<{ owner: Meaning; phrase: string }> {
  for (const finding of knowledge.findings.values())
    for (const [value, says] of Object.entries(finding.says)) {
      const plain: Meaning = { kind: 'finding', finding: finding.id, value, weak: false, general: false };
      const weak: Meaning = { ...plain, weak: true };
      const general: Meaning = { ...plain, general: true };
      for (const phrase of says.phrases)
        yield phrase.startsWith('~')
          ? { owner: weak, phrase: phrase.slice(1).trim() }
          : phrase.startsWith('?')
            ? { owner: general, phrase: phrase.slice(1).trim() }
            : { owner: plain, phrase };
    }
  for (const act of ACTS)
    if (knowledge.concepts.has(`talk.${act}`)) {
      yield { owner: { kind: 'act', act }, phrase: `<talk.${act}>` };
      // an entry of several choices is a phrase of its own
      for (const phrase of knowledge.concepts.get(`talk.${act}`)?.words ?? [])
        if (isPhrase(phrase)) yield { owner: { kind: 'act', act }, phrase };
    }
  for (const [concept, shown] of Object.entries(SHOWN))
    if (knowledge.concepts.has(concept)) yield { owner: { kind: 'shown', shown }, phrase: `<${concept}>` };
  for (const [concept, { degrees }] of knowledge.concepts)
    if (degrees) yield { owner: { kind: 'warmth', concept }, phrase: `<${concept}>` };
  for (const topic of knowledge.topics.values()) {
    const owner: Meaning = { kind: 'topic', topic: topic.id };
    for (const phrase of topic.phrases) yield { owner, phrase };
  }
  for (const part of knowledge.parts.values()) {
    const owner: Meaning = { kind: 'part', part: part.id };
    for (const phrase of part.says.phrases) yield { owner, phrase };
  }
  for (const family of knowledge.units.values()) {
    const owner: Meaning = { kind: 'family', family: family.id };
    for (const phrase of family.says) yield { owner, phrase };
  }
}
