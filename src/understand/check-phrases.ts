/** Every phrase of the knowledge folder has an example, and every example is understood; hazards are checked by safety. */
import type { Knowledge } from '../knowledge/facts.js';
import { instanceOf } from '../message/phrase-form.js';
import { matcherFor, read, spellerOf, type Matcher, type ReadText } from '../message/phrases.js';
import { tokenise } from '../message/text.js';
import { stretchesIn } from './durations.js';
import { answersOf } from './ear.js';
import { ACTS } from './talk.js';

export interface PhraseProblem {
  /** the text that is wrong, to be found in its file */
  readonly text: string;
  readonly where: string;
  readonly problem: string;
  readonly mend: string;
}

interface Group {
  readonly where: string;
  readonly phrases: readonly string[];
  readonly examples: readonly string[];
  /** heard by the listener that must not miss anything */
  readonly loose: boolean;
}

export function phraseProblems(knowledge: Knowledge): PhraseProblem[] {
  const groups = groupsOf(knowledge);
  const problems: PhraseProblem[] = [...answerProblems(knowledge), ...sentenceProblems(knowledge)];
  for (const g of groups)
    for (const phrase of g.phrases)
      for (const [, concept = ''] of phrase.matchAll(/<([^>]+)>/g))
        if (!knowledge.concepts.has(concept))
          problems.push({
            text: phrase,
            where: g.where,
            problem: `no concept is called "${concept}"`,
            mend: 'Name one of the folder language/, or add it there.',
          });
  const ordinary = knowledge.concepts.get('talk.ordinary-words')?.words ?? [];
  const speller = spellerOf(
    groups.flatMap((g) => g.phrases),
    knowledge.concepts,
    ordinary,
  );
  const matcherOf = (loose: boolean): Matcher<Group> =>
    matcherFor(
      groups.filter((g) => g.loose === loose).flatMap((g) => g.phrases.map((phrase) => ({ owner: g, phrase }))),
      knowledge.concepts,
      speller,
      { loose },
    );
  const strict = matcherOf(false);
  const loose = matcherOf(true);
  for (const g of groups) {
    const seen = new Set<string>();
    for (const example of g.examples) {
      const own = (g.loose ? loose : strict).find(heard(example)).filter((m) => m.owner === g && !m.negated);
      for (const m of own) seen.add(m.phrase);
      if (own.length === 0)
        problems.push({
          text: example,
          where: g.where,
          problem: 'no phrase matches this example',
          mend: 'Change the example, or add a phrase that matches it.',
        });
    }
    for (const phrase of g.phrases)
      if (!seen.has(phrase))
        problems.push({
          text: phrase,
          where: g.where,
          problem: 'this phrase occurs in no example',
          mend: 'Add an example that uses it, or remove the phrase.',
        });
  }
  return problems;
}

/** As it would be heard on a day that the year-long and the weekday-long examples can be counted from. */
function heard(example: string): ReadText {
  return read(example, stretchesIn(tokenise(example), '2026-11-25T12:00:00Z'));
}

/** A short answer is its own example: said to its finding's question, it means its value. */
function answerProblems(knowledge: Knowledge): PhraseProblem[] {
  const problems: PhraseProblem[] = [];
  for (const f of knowledge.findings.values())
    for (const [value, { answers }] of Object.entries(f.says))
      for (const answer of answers) {
        const where = `findings/${f.id}.yaml ${value}`;
        const said = instanceOf(knowledge.concepts, answer);
        const found = said === null ? [] : answersOf(knowledge, f.id).find(heard(said));
        if (!found.some((m) => m.owner.value === value && !m.negated))
          problems.push({
            text: answer,
            where,
            problem:
              said === null ? 'a concept it names does not exist' : `said as "${said}" it does not mean ${value}`,
            mend: 'Change the answer so that its first words are one.',
          });
      }
  return problems;
}

/** What a sentence teaches must exist. */
function sentenceProblems(knowledge: Knowledge): PhraseProblem[] {
  const labels = new Set(knowledge.sentences.flatMap((s) => s.labels));
  return [...labels].flatMap((label) => {
    const [of = '', what = ''] = label.split('=');
    const allowed =
      of === 'talk'
        ? [...ACTS, 'off-topic']
        : of === 'topic'
          ? [...knowledge.topics.keys()]
          : (knowledge.findings.get(of)?.values ?? []);
    if (allowed.includes(what)) return [];
    return {
      text: label,
      where: 'sentences/',
      problem: `nothing is called "${label}"`,
      mend:
        allowed.length > 0
          ? `Allowed after "${of}=": ${allowed.join(', ')}.`
          : 'Write finding=value, talk=act or topic=name, joined by ", ", or nothing.',
    };
  });
}

function groupsOf(knowledge: Knowledge): Group[] {
  const groups: Group[] = [];
  for (const f of knowledge.findings.values())
    for (const [value, { phrases, examples }] of Object.entries(f.says))
      groups.push({
        where: `findings/${f.id}.yaml ${value}`,
        phrases: phrases.map((p) => p.replace(/^[~?]\s*/, '')),
        examples,
        loose: false,
      });
  for (const p of knowledge.parts.values()) groups.push({ where: `readings/${p.id}.yaml`, ...p.says, loose: false });
  for (const h of knowledge.hazards.values())
    groups.push({
      where: `hazards/${h.id}.yaml`,
      phrases: h.phrases.map((p) => p.replace(/^!\s*/, '')),
      examples: h.examples,
      loose: true,
    });
  for (const t of knowledge.topics.values())
    groups.push({ where: `topics/${t.id}.yaml`, phrases: t.phrases, examples: t.examples, loose: false });
  return groups;
}
