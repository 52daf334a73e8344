/** What a message does in the talk itself: yes, no, not sure, why, a person please. By the concepts named "talk.". */
import type { Match } from '../message/phrases.js';

export type Act =
  | 'yes'
  | 'no'
  | 'not-sure'
  | 'person'
  | 'why'
  | 'how'
  | 'repeat'
  | 'what-is-that'
  | 'known'
  | 'picture'
  | 'chart'
  | 'back'
  | 'start-over'
  | 'wait'
  | 'thanks'
  | 'goodbye'
  | 'hello'
  | 'fixed'
  | 'correction'
  | 'taken-back'
  | 'both'
  | 'neither'
  | 'same'
  | 'hedge'
  | 'domain'
  | 'near-domain'
  | 'another-language'
  | 'other-appliance'
  | 'not-done-yet'
  | 'stop-asking';

export const ACTS: readonly Act[] = [
  'not-done-yet',
  'yes',
  'no',
  'not-sure',
  'person',
  'why',
  'how',
  'repeat',
  'what-is-that',
  'known',
  'picture',
  'chart',
  'back',
  'start-over',
  'wait',
  'thanks',
  'goodbye',
  'hello',
  'fixed',
  'correction',
  'taken-back',
  'both',
  'neither',
  'same',
  'hedge',
  'domain',
  'near-domain',
  'another-language',
  'other-appliance',
  'stop-asking',
];

/** Acts that may be buried in a longer message; the others count only when they open it or are nearly all of it. */
const ANYWHERE = new Set<Act>([
  'not-done-yet',
  'person',
  'correction',
  'hedge',
  'domain',
  'near-domain',
  'another-language',
  'other-appliance',
  'known',
  'start-over',
  'not-sure',
  'taken-back',
  'fixed',
  'stop-asking',
]);

/** Acts that are questions about something: of another trade, where no word is of ours. */
export const QUESTIONS: readonly Act[] = ['why', 'how', 'what-is-that', 'not-done-yet', 'repeat', 'wait', 'known'];

export interface Talk {
  readonly acts: ReadonlySet<Act>;
  readonly at: (act: Act) => readonly Match<Act>[];
}

export function talkOf(matches: readonly Match<Act>[], words: number): Talk {
  const by = new Map<Act, Match<Act>[]>();
  for (const m of matches) {
    const negatable = m.owner === 'person' || m.owner === 'fixed';
    if (m.negated && negatable) continue;
    const short = words <= m.weight + 4;
    if (!ANYWHERE.has(m.owner) && m.from > 1 && !short) continue;
    // "it is" and "i do" are a yes only where they are all that is said
    const assent = m.owner === 'yes' || m.owner === 'no';
    if (assent && m.weight > 1 && words > m.weight + 1) continue;
    const list = by.get(m.owner);
    if (list) list.push(m);
    else by.set(m.owner, [m]);
  }
  return { acts: new Set(by.keys()), at: (act) => by.get(act) ?? [] };
}
