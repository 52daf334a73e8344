/** Every phrase of the knowledge folder has an example, and every example is understood; hazards are checked by safety. */
import type { Knowledge } from '../knowledge/facts.js';
import { matcherFor, read, spellerOf } from '../message/phrases.js';

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
}

export function phraseProblems(knowledge: Knowledge): PhraseProblem[] {
  const groups = groupsOf(knowledge);
  const problems: PhraseProblem[] = [];
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
  const matcher = matcherFor(
    groups.flatMap((g) => g.phrases.map((phrase) => ({ owner: g, phrase }))),
    knowledge.concepts,
    speller,
  );
  for (const g of groups) {
    const seen = new Set<string>();
    for (const example of g.examples) {
      const own = matcher.find(read(example)).filter((m) => m.owner === g && !m.negated);
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

function groupsOf(knowledge: Knowledge): Group[] {
  const groups: Group[] = [];
  for (const f of knowledge.findings.values())
    for (const [value, says] of Object.entries(f.says))
      groups.push({ where: `findings/${f.id}.yaml ${value}`, ...says });
  for (const p of knowledge.parts.values()) groups.push({ where: `readings/${p.id}.yaml`, ...p.says });
  for (const h of knowledge.hazards.values())
    groups.push({ where: `hazards/${h.id}.yaml`, phrases: h.phrases, examples: h.examples });
  for (const t of knowledge.topics.values())
    groups.push({ where: `topics/${t.id}.yaml`, phrases: t.phrases, examples: t.examples });
  return groups;
}
