/** What the listener listens for in one knowledge folder: the phrases of every danger, and what lets a danger go. */
import type { Hazard, Knowledge } from '../knowledge/facts.js';
import { matcherFor, spellerOf, type Match, type Matcher } from '../message/phrases.js';

export interface Owner {
  readonly hazard: Hazard;
  readonly harmless: boolean;
  /** written with a `!` before it: names the danger so plainly that it is an alarm whatever else is thought of it */
  readonly plain: boolean;
}
/** what a person only asks about, and what lets a named danger go or makes it a matter of the past */
const ASIDES = {
  'not-done-yet': '<talk.not-done-yet>',
  elsewhere: '<danger.elsewhere>',
  mended: '<danger.mended>',
  past: '<danger.past>',
  never: '<danger.never>',
  lasting: '<danger.lasting>',
  'keep-away': '<danger.keep-away>',
} as const;
export type Aside = keyof typeof ASIDES;
export type Sound = Match<Owner | Aside>;

/** by what they are made of: a folder with other words for the talk has the same ear */
const ears = new WeakMap<Knowledge['hazards'], { readonly concepts: unknown; readonly ear: Matcher<Owner | Aside> }>();

export function earOf(knowledge: Knowledge): Matcher<Owner | Aside> {
  const known = ears.get(knowledge.hazards);
  if (known && known.concepts === knowledge.concepts) return known.ear;
  const ear = made(knowledge);
  ears.set(knowledge.hazards, { concepts: knowledge.concepts, ear });
  return ear;
}

function made(knowledge: Knowledge): Matcher<Owner | Aside> {
  const entries: { owner: Owner | Aside; phrase: string }[] = [];
  for (const hazard of knowledge.hazards.values()) {
    for (const phrase of hazard.phrases)
      entries.push(
        phrase.startsWith('!')
          ? { owner: { hazard, harmless: false, plain: true }, phrase: phrase.slice(1).trim() }
          : { owner: { hazard, harmless: false, plain: false }, phrase },
      );
    for (const phrase of hazard.unless) entries.push({ owner: { hazard, harmless: true, plain: false }, phrase });
  }
  for (const [aside, phrase] of Object.entries(ASIDES)) entries.push({ owner: aside as Aside, phrase });
  const speller = spellerOf(
    entries.map((e) => e.phrase),
    knowledge.concepts,
    knowledge.concepts.get('talk.ordinary-words')?.words ?? [],
  );
  return matcherFor(entries, knowledge.concepts, speller, { loose: true });
}
