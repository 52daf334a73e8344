/**
 * Hears danger in the raw words, before anything else is understood. It raises hazards by the phrases of the
 * knowledge folder; no confidence, probability or cost has a say here. It never decides what to do about them.
 */
import type { Hazard, Knowledge, Role } from '../knowledge/facts.js';
import { read, spanOf, type Match, type ReadText } from '../message/phrases.js';
import { withoutParts } from '../message/text.js';
import { earOf, type Aside, type Owner, type Sound } from './ear.js';

export interface Heard {
  readonly hazard: string;
  readonly level: 'stop' | 'caution';
  readonly span: string;
  /** asked about something not done yet: the caution is given, no alarm */
  readonly asked: boolean;
  /** there is smoke or fire: people leave, and nothing is asked of them */
  readonly silent: boolean;
  /** in words that hardly mean anything else: a plain phrase, or several phrases at once */
  readonly plain: boolean;
  /** told of as past, without a cause that was mended */
  readonly past: boolean;
}

/** The hazards of one message for the one who speaks; each once, a stop before a caution. `standing`: raised before. */
export const listen = (knowledge: Knowledge, text: string, role: Role, standing: readonly string[] = []): Heard[] =>
  listenIn(knowledge, read(text), role, standing);

/** The same of a text that was read before. */
export function listenIn(knowledge: Knowledge, said: ReadText, role: Role, standing: readonly string[]): Heard[] {
  const heard = listenTo(knowledge, said, role, standing);
  // a sign that nobody sees may part words, or stand in the middle of one: danger is heard in both readings
  const closed = withoutParts(said.text);
  if (closed === null) return heard;
  const more = listenTo(knowledge, read(closed), role, standing).filter(
    (h) => !heard.some((o) => o.hazard === h.hazard),
  );
  return [...heard, ...more].sort(stopsFirst);
}

const stopsFirst = (a: Heard, b: Heard): number => Number(a.level === 'caution') - Number(b.level === 'caution');

function listenTo(knowledge: Knowledge, text: ReadText, role: Role, standing: readonly string[]): Heard[] {
  const matches = earOf(knowledge).find(text);
  const said = (aside: Aside): Sound[] => matches.filter((m) => m.owner === aside);
  const isHazard = (m: Sound): m is Match<Owner> => typeof m.owner !== 'string';
  const asks = said('not-done-yet');
  const asides: Asides = {
    elsewhere: said('elsewhere'),
    mended: said('mended').filter((m) => !m.negated),
    past: said('past').filter((m) => !m.negated),
    never: said('never'),
    lasting: said('lasting').filter((m) => !m.negated),
  };
  const alarms = matches.filter(isHazard).filter((m) => !m.owner.harmless && !m.negated);
  const harmless = matches.filter(isHazard).filter((m) => m.owner.harmless);
  const away = said('keep-away').some((m) => !m.negated);
  const heard = new Map<string, Heard>();
  const phrases = new Map<string, Set<string>>();
  for (const m of alarms) {
    const { hazard } = m.owner;
    if (harmless.some((h) => h.owner.hazard.id === hazard.id && h.from <= m.to && m.from <= h.to)) continue;
    if (isLetGo(text, m, asides)) continue;
    const asked =
      hazard.act && asks.some((a) => a.from <= m.to && a.to >= m.from - ASK_REACH && sameClause(text, a, m));
    const now: Heard = {
      hazard: hazard.id,
      level: asked ? 'caution' : levelFor(hazard, role),
      span: spanOf(text, m),
      asked,
      silent: away && !asked,
      plain: m.owner.plain,
      past: isPast(text, m, asides),
    };
    const before = heard.get(hazard.id);
    if (!before || graver(now, before)) heard.set(hazard.id, now);
    phrases.set(hazard.id, (phrases.get(hazard.id) ?? new Set()).add(m.phrase));
  }
  const all = [...heard.values()].map((h) => ({
    ...h,
    plain: h.plain || (phrases.get(h.hazard)?.size ?? 0) >= SEVERAL,
  }));
  return joined(knowledge, all, standing).sort(stopsFirst);
}
const ASK_REACH = 8;
/** so many phrases of one danger at once are no accident */
const SEVERAL = 3;

/** Of two places where the same danger is told the one that is present, done and plain counts. */
const graver = (a: Heard, b: Heard): boolean => rank(a) < rank(b);
const rank = (h: Heard): number => 4 * Number(h.asked) + 2 * Number(h.past) + Number(!h.plain);

interface Place {
  readonly from: number;
  readonly to: number;
}
type Asides = Readonly<Record<'elsewhere' | 'mended' | 'past' | 'never' | 'lasting', readonly Place[]>>;

const sentenceAt = (text: ReadText, i: number): number => text.tokens[i]?.sentence ?? 0;

/**
 * Whether a danger that was named is let go: it is another machine's or only told of, it was never done, or its cause is
 * known and mended and nothing says that it lasts.
 */
function isLetGo(text: ReadText, m: Match<Owner>, { elsewhere, mended, never, lasting }: Asides): boolean {
  if (elsewhere.some((a) => isBeside(text, m, a))) return true;
  if (m.owner.hazard.act && never.some((a) => isBeside(text, m, a) || follows(text, m, a))) return true;
  return mended.some((a) => follows(text, m, a) && !lasts(m, a, lasting));
}

/** Whether it is told as past: "years ago", "last winter", and nothing says that it lasts. */
const isPast = (text: ReadText, m: Match<Owner>, { past, lasting }: Asides): boolean =>
  past.some((a) => (isBeside(text, m, a) || follows(text, m, a)) && !lasts(m, a, lasting));

const isBeside = (text: ReadText, m: Place, a: Place): boolean =>
  sentenceAt(text, a.from) === sentenceAt(text, m.from) &&
  a.to >= m.from - LET_GO_REACH &&
  a.from <= m.to + LET_GO_REACH;
const follows = (text: ReadText, m: Place, a: Place): boolean =>
  a.to >= m.from && a.from <= m.to + MENDED_REACH && sentenceAt(text, a.from) - sentenceAt(text, m.to) <= 1;
const lasts = (m: Place, a: Place, lasting: readonly Place[]): boolean =>
  lasting.some((l) => l.from >= Math.min(m.from, a.from) && l.from <= Math.max(m.to, a.to) + LET_GO_REACH);
const LET_GO_REACH = 7;
const MENDED_REACH = 16;

const sameClause = (text: ReadText, a: { readonly from: number }, b: { readonly from: number }): boolean =>
  text.tokens[a.from]?.clause === text.tokens[b.from]?.clause;

/** A caution may be a stop for one role: a homeowner with the cover off and the power on. */
export function levelFor(hazard: Hazard, role: Role): 'stop' | 'caution' {
  return hazard.level === 'stop' || hazard.stopFor.includes(role) ? 'stop' : 'caution';
}

/** Some cautions together with another hazard are a stop: a flammable refrigerant and a leak. */
function joined(knowledge: Knowledge, heard: readonly Heard[], standing: readonly string[] = []): Heard[] {
  const present = new Set([...heard.filter((h) => !h.asked).map((h) => h.hazard), ...standing]);
  return heard.map((h) => {
    const others = knowledge.hazards.get(h.hazard)?.stopWith ?? [];
    return !h.asked && others.some((o) => present.has(o)) ? { ...h, level: 'stop' as const } : h;
  });
}
