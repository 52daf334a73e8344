/** The matchers of one knowledge folder, built once: findings, talk acts, topics, parts, unit families. */
import type { Knowledge } from '../knowledge/facts.js';
import { matcherFor, spellerOf, type Matcher } from '../message/phrases.js';
import { ACTS, type Act } from './talk.js';

export type Meaning =
  | { readonly kind: 'finding'; readonly finding: string; readonly value: string }
  | { readonly kind: 'act'; readonly act: Act }
  | { readonly kind: 'topic'; readonly topic: string }
  | { readonly kind: 'part'; readonly part: string }
  | { readonly kind: 'family'; readonly family: string };

const matchers = new WeakMap<Knowledge, Matcher<Meaning>>();

export function matcherOf(knowledge: Knowledge): Matcher<Meaning> {
  let matcher = matchers.get(knowledge);
  if (!matcher) {
    const entries = [...entriesOf(knowledge)];
    const ordinary = knowledge.concepts.get('talk.ordinary-words')?.words ?? [];
    const speller = spellerOf(
      entries.map((e) => e.phrase),
      knowledge.concepts,
      ordinary,
    );
    matchers.set(knowledge, (matcher = matcherFor(entries, knowledge.concepts, speller)));
  }
  return matcher;
}

function* entriesOf(knowledge: Knowledge): Iterable<{ owner: Meaning; phrase: string }> {
  for (const finding of knowledge.findings.values())
    for (const [value, says] of Object.entries(finding.says)) {
      const owner: Meaning = { kind: 'finding', finding: finding.id, value };
      for (const phrase of says.phrases) yield { owner, phrase };
    }
  for (const act of ACTS)
    if (knowledge.concepts.has(`talk.${act}`)) yield { owner: { kind: 'act', act }, phrase: `<talk.${act}>` };
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
