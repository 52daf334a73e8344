/**
 * Hears danger in the raw words, before anything else is understood. It raises hazards by the phrases of the
 * knowledge folder; no confidence, probability or cost has a say here. It never decides what to do about them.
 */
import type { Hazard, Knowledge, Role } from '../knowledge/facts.js';
import { withoutParts } from '../message/text.js';
import { matcherFor, read, spanOf, spellerOf, type Match, type Matcher, type ReadText } from '../message/phrases.js';

export interface Heard {
  readonly hazard: string;
  readonly level: 'stop' | 'caution';
  readonly span: string;
  /** asked about something not done yet: the caution is given, no alarm */
  readonly asked: boolean;
  /** there is smoke or fire: people leave, and nothing is asked of them */
  readonly silent: boolean;
}

interface Owner {
  readonly hazard: Hazard;
  readonly harmless: boolean;
}
/** what a person only asks about, and what lets a named danger go */
const ASIDES = {
  'not-done-yet': '<talk.not-done-yet>',
  elsewhere: '<danger.elsewhere>',
  mended: '<danger.mended>',
  never: '<danger.never>',
  lasting: '<danger.lasting>',
  'keep-away': '<danger.keep-away>',
} as const;
type Aside = keyof typeof ASIDES;
interface Ear {
  readonly matcher: Matcher<Owner | Aside>;
}

const ears = new WeakMap<Knowledge, Ear>();

function earOf(knowledge: Knowledge): Ear {
  let ear = ears.get(knowledge);
  if (!ear) {
    const entries: { owner: Owner | Aside; phrase: string }[] = [];
    for (const hazard of knowledge.hazards.values()) {
      for (const phrase of hazard.phrases) entries.push({ owner: { hazard, harmless: false }, phrase });
      for (const phrase of hazard.unless) entries.push({ owner: { hazard, harmless: true }, phrase });
    }
    for (const [aside, phrase] of Object.entries(ASIDES)) entries.push({ owner: aside as Aside, phrase });
    const speller = spellerOf(
      entries.map((e) => e.phrase),
      knowledge.concepts,
      knowledge.concepts.get('talk.ordinary-words')?.words ?? [],
    );
    ears.set(knowledge, (ear = { matcher: matcherFor(entries, knowledge.concepts, speller, { loose: true }) }));
  }
  return ear;
}

/** The hazards of one message for the one who speaks; each once, a stop before a caution. `standing`: raised before. */
export function listen(knowledge: Knowledge, text: string, role: Role, standing: readonly string[] = []): Heard[] {
  const heard = listenTo(knowledge, read(text), role, standing);
  // a sign that nobody sees may part words, or stand in the middle of one: danger is heard in both readings
  const closed = withoutParts(text);
  if (closed === null) return heard;
  const more = listenTo(knowledge, read(closed), role, standing).filter(
    (h) => !heard.some((o) => o.hazard === h.hazard),
  );
  return [...heard, ...more].sort(stopsFirst);
}

const stopsFirst = (a: Heard, b: Heard): number => Number(a.level === 'caution') - Number(b.level === 'caution');

function listenTo(knowledge: Knowledge, text: ReadText, role: Role, standing: readonly string[]): Heard[] {
  const matches = earOf(knowledge).matcher.find(text);
  const said = (aside: Aside): Match<Owner | Aside>[] => matches.filter((m) => m.owner === aside);
  const isHazard = (m: Match<Owner | Aside>): m is Match<Owner> => typeof m.owner !== 'string';
  const asks = said('not-done-yet');
  const asides: Asides = {
    elsewhere: said('elsewhere'),
    mended: said('mended').filter((m) => !m.negated),
    never: said('never'),
    lasting: said('lasting').filter((m) => !m.negated),
  };
  const alarms = matches.filter(isHazard).filter((m) => !m.owner.harmless && !m.negated);
  const harmless = matches.filter(isHazard).filter((m) => m.owner.harmless);
  const away = said('keep-away').some((m) => !m.negated);
  const heard = new Map<string, Heard>();
  for (const m of alarms) {
    const { hazard } = m.owner;
    if (harmless.some((h) => h.owner.hazard.id === hazard.id && h.from <= m.to && m.from <= h.to)) continue;
    if (isLetGo(text, m, asides)) continue;
    const asked =
      hazard.act && asks.some((a) => a.from <= m.to && a.to >= m.from - ASK_REACH && sameClause(text, a, m));
    const level = asked ? 'caution' : levelFor(hazard, role);
    const before = heard.get(hazard.id);
    if (!before || (before.asked && !asked))
      heard.set(hazard.id, { hazard: hazard.id, level, span: spanOf(text, m), asked, silent: away && !asked });
  }
  return joined(knowledge, [...heard.values()], standing).sort(stopsFirst);
}
const ASK_REACH = 8;

interface Place {
  readonly from: number;
  readonly to: number;
}
type Asides = Readonly<Record<'elsewhere' | 'mended' | 'never' | 'lasting', readonly Place[]>>;

/**
 * Whether a danger that was named is let go: it is another machine's or only told of, it was never done, or its cause is
 * known and mended and nothing says that it lasts.
 */
function isLetGo(text: ReadText, m: Match<Owner>, { elsewhere, mended, never, lasting }: Asides): boolean {
  const sentence = (i: number): number => text.tokens[i]?.sentence ?? 0;
  const near = (a: Place): boolean =>
    sentence(a.from) === sentence(m.from) && a.to >= m.from - LET_GO_REACH && a.from <= m.to + LET_GO_REACH;
  if (elsewhere.some((a) => near(a))) return true;
  if (m.owner.hazard.act && never.some((a) => near(a) || follows(a))) return true;
  return mended.some((a) => follows(a) && !lasting.some((l) => l.from >= m.from && l.from <= a.to + LET_GO_REACH));

  function follows(a: Place): boolean {
    return a.to >= m.from && a.from <= m.to + MENDED_REACH && sentence(a.from) - sentence(m.to) <= 1;
  }
}
const LET_GO_REACH = 7;
const MENDED_REACH = 16;

const sameClause = (text: ReadText, a: { readonly from: number }, b: { readonly from: number }): boolean =>
  text.tokens[a.from]?.clause === text.tokens[b.from]?.clause;

/** A caution may be a stop for one role: a homeowner with the cover off and the power on. */
function levelFor(hazard: Hazard, role: Role): 'stop' | 'caution' {
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
