/**
 * What a meter shows without a number, and how warm a part was said to be without degrees: by the concepts of
 * language/meters.yaml. Which part it belongs to is not known here.
 */
import type { Knowledge, QuantityName } from '../knowledge/facts.js';
import type { Match, ReadText } from '../message/phrases.js';
import type { Meaning } from './ear.js';
import type { Found } from './quantities.js';

export type Shown =
  | 'over-limit'
  | 'open'
  | 'closed'
  | 'maybe-open'
  | 'maybe-closed'
  | 'short'
  | 'no-volts'
  | 'no-amps'
  | 'nothing'
  | 'amps';

/** Concept -> what it says. */
export const SHOWN: Readonly<Record<string, Shown>> = {
  'over-limit': 'over-limit',
  'no-continuity': 'open',
  'has-continuity': 'closed',
  'meter-open': 'maybe-open',
  'meter-closed': 'maybe-closed',
  'dead-short': 'short',
  'no-volts': 'no-volts',
  'no-amps': 'no-amps',
  'meter-nothing': 'nothing',
  'amp-clamp': 'amps',
};

const AS_FOUND: Readonly<Record<Exclude<Shown, 'amps' | 'nothing'>, Pick<Found, 'kind' | 'value' | 'unit' | 'weak'>>> =
  {
    'over-limit': { kind: 'resistance', value: 'OL', unit: 'ohm' },
    open: { kind: 'continuity', value: 'open', unit: null },
    closed: { kind: 'continuity', value: 'closed', unit: null },
    'maybe-open': { kind: 'continuity', value: 'open', unit: null, weak: true },
    'maybe-closed': { kind: 'continuity', value: 'closed', unit: null, weak: true },
    short: { kind: 'resistance', value: 0, unit: 'ohm' },
    'no-volts': { kind: 'voltage', value: 0, unit: 'V' },
    'no-amps': { kind: 'current', value: 0, unit: 'A' },
  };

/** The quantities of the text with what the meter shows in words, in order. */
export function withShown(
  quantities: readonly Found[],
  text: ReadText,
  matches: readonly Match<Meaning>[],
  asked: QuantityName | null,
): Found[] {
  const found = [...quantities];
  const said = matches.flatMap((m) => (m.owner.kind === 'shown' ? [{ ...m, shown: m.owner.shown }] : []));
  for (const m of said) {
    if (m.shown === 'amps') {
      // a clamp meter's bare number is in amperes
      const after = text.tokens[m.to]?.end ?? 0;
      const i = found.findIndex((f) => f.kind === 'bare' && f.start >= after && f.start - after < CLAMP_REACH);
      const bare = found[i];
      if (bare) found[i] = { ...bare, kind: 'current', unit: 'A' };
      continue;
    }
    if (said.some((o) => o !== m && o.from <= m.from && m.to <= o.to && o.to - o.from > m.to - m.from)) continue;
    const start = text.tokens[m.from]?.start ?? 0;
    const end = text.tokens[m.to]?.end ?? 0;
    if (found.some((f) => f.start < end && start < f.end && f.kind !== 'bare')) continue;
    if (m.shown === 'nothing' && found.length > 0) continue;
    for (let i = found.length - 1; i >= 0; i -= 1)
      if ((found[i]?.start ?? end) < end && start < (found[i]?.end ?? start)) found.splice(i, 1);
    if (m.shown !== 'nothing') found.push({ ...AS_FOUND[m.shown], start, end });
    else if (asked === 'voltage' || asked === 'current')
      found.push({ kind: asked, value: 0, unit: asked === 'voltage' ? 'V' : 'A', start, end });
  }
  return found.sort((a, b) => a.start - b.start);
}

const CLAMP_REACH = 25;

/** Degrees Celsius for words of warmth near a value ("in ice water"); null where none are near. */
export function warmthNear(
  knowledge: Knowledge,
  text: ReadText,
  matches: readonly Match<Meaning>[],
  from: number,
  to: number,
): number | null {
  for (const m of matches) {
    if (m.owner.kind !== 'warmth') continue;
    const start = text.tokens[m.from]?.start ?? 0;
    const end = text.tokens[m.to]?.end ?? 0;
    if (start > to + AHEAD || end < from - BEFORE) continue;
    const degrees = knowledge.concepts.get(m.owner.concept)?.degrees;
    if (degrees) return degrees.value;
  }
  return null;
}
/** characters */
const AHEAD = 60;
const BEFORE = 40;
