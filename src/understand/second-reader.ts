/**
 * The second reader: what a message likely says, by likeness to the sentences of the knowledge folder. It stands beside
 * the phrases, and only says how sure it is; `two-readers.ts` decides what is taken.
 */
import type { Knowledge } from '../knowledge/facts.js';
import { instanceOf, wordsOf } from '../message/phrase-form.js';
import type { ReadText } from '../message/phrases.js';
import { tokenise, type Token } from '../message/text.js';
import { stretchesIn } from './durations.js';
import { spellerOfEar } from './ear.js';
import { OF_TRADE } from './likely-talk.js';
import { learn, type Learnt, type Lesson } from './linear.js';
import { packed, unpacked, type Packed } from './packed.js';
import { traitReader, type Trait, type TraitReader } from './traits.js';

/** How sure it is that a value is said, 0 to 1, and by which tokens, both included. */
export interface Likely {
  readonly finding: string;
  readonly value: string;
  readonly p: number;
  readonly from: number;
  readonly to: number;
}

interface Reader {
  readonly traits: TraitReader;
  readonly labels: readonly { readonly finding: string; readonly value: string }[];
  readonly placeOf: ReadonlyMap<string, number>;
  readonly learnt: Learnt;
}

const readers = new WeakMap<Knowledge, Reader>();

/** Where what was learnt is kept from one start to the next; without one it is learnt anew. */
export interface Notebook {
  readonly read: () => unknown;
  readonly write: (learnt: Packed) => void;
}
const notebooks = new WeakMap<Knowledge, Notebook>();
export const keepIn = (knowledge: Knowledge, notebook: Notebook): void => void notebooks.set(knowledge, notebook);

/** The day that examples are read on. */
const A_DAY = '2026-11-25T12:00:00Z';

/** What the folder's sentences teach. */
function lessonsOf(knowledge: Knowledge): Lesson[] {
  const traits = traitReader(knowledge.concepts, spellerOfEar(knowledge));
  const lessons: Lesson[] = [];
  const add = (text: string, labels: readonly string[], asked: string | null): void => {
    const tokens = tokenise(text);
    const found = traits.traitsOf({ text, tokens, stretches: stretchesIn(tokens, A_DAY) });
    lessons.push({ traits: namesOf(found, asked), labels });
  };
  for (const f of knowledge.findings.values())
    for (const [value, { examples, answers }] of Object.entries(f.says)) {
      const label = `${f.id}=${value}`;
      for (const e of examples) add(e, [label], null);
      for (const a of answers) add(wordsOf(instanceOf(knowledge.concepts, a) ?? '').join(' '), [label], f.id);
    }
  for (const h of knowledge.hazards.values()) for (const e of h.examples) add(e, [OF_TRADE], null);
  for (const part of knowledge.parts.values()) for (const e of part.says.examples) add(e, [OF_TRADE], null);
  for (const t of knowledge.topics.values()) for (const e of t.examples) add(e, [`topic=${t.id}`], null);
  for (const s of knowledge.sentences) add(s.text, s.labels, s.asked);
  return lessons;
}

function readerOf(knowledge: Knowledge): Reader {
  let reader = readers.get(knowledge);
  if (!reader) {
    const notebook = notebooks.get(knowledge);
    let learnt = unpacked(notebook?.read());
    if (!learnt) {
      learnt = learn(lessonsOf(knowledge));
      notebook?.write(packed(learnt));
    }
    readers.set(knowledge, (reader = taught(knowledge, learnt)));
  }
  return reader;
}

function taught(knowledge: Knowledge, learnt: Learnt): Reader {
  return {
    traits: traitReader(knowledge.concepts, spellerOfEar(knowledge)),
    labels: learnt.labels.map((l) => {
      const at = l.indexOf('=');
      return { finding: l.slice(0, at), value: l.slice(at + 1) };
    }),
    placeOf: new Map(learnt.traits.map((t, i) => [t, i])),
    learnt,
  };
}

/** Traits, each once; to a question also each word as an answer to it, and the question, so that no word learns its share. */
function namesOf(traits: readonly Trait[], asked: string | null): string[] {
  const names = new Set<string>();
  for (const { name } of traits) {
    names.add(name);
    if (asked !== null && !name.includes(' ')) names.add(`${asked}?${name}`);
  }
  if (asked !== null) names.add(`?${asked}`);
  return [...names];
}

/** Everything that is at all likely, the most likely place of each value. `asked`: the finding whose question stands. */
export function likelyIn(
  knowledge: Knowledge,
  text: ReadText,
  asked: string | null,
  /** where phrases stand: looked at for themselves in a technician's line without a comma or a small word */
  phrases: readonly { readonly from: number; readonly to: number }[] = [],
): Likely[] {
  const reader = readerOf(knowledge);
  const known = knownIn(reader, text, asked);
  const best = new Map<number, Likely>();
  const around = phrases
    .filter(({ from }) => isTerse(text.tokens, text.tokens[from]?.segment))
    .map(({ from, to }): [number, number] => [from - 1, to + 1]);
  const told = new Set(known.filter((k) => k.from === k.to).map((k) => k.from));
  for (const [from, to] of [...unitsOf(text.tokens), ...around]) {
    if (!isKnown(text.tokens, told, from, to)) continue;
    const scores = scoresOf(reader, known, from, to);
    for (let c = 0; c < scores.length; c += 1) {
      const score = scores[c] ?? 0;
      if (score < AT_ALL) continue;
      const p = 1 / (1 + Math.exp(-score));
      const label = reader.labels[c];
      if (label && p > (best.get(c)?.p ?? 0)) best.set(c, { ...label, p, from, to });
    }
  }
  return [...best.values()].sort((a, b) => b.p - a.p);
}

/** Something was learnt of at least half of the telling words; of none there is nothing to be like. */
function isKnown(tokens: readonly Token[], told: ReadonlySet<number>, from: number, to: number): boolean {
  let [heard, strange] = [0, 0];
  for (let i = Math.max(from, 0); i <= to && i < tokens.length; i += 1) {
    if (told.has(i)) heard += 1;
    else if (!(tokens[i]?.filler ?? true)) strange += 1;
  }
  return heard > 0 && heard >= strange;
}

/** "sxs mech timer evap iced": nothing but telling words. */
const isTerse = (tokens: readonly Token[], segment: number | undefined): boolean =>
  tokens.every((t) => t.segment !== segment || !t.filler);

/** log odds; what is less likely is not spoken of */
const AT_ALL = -2.25;

interface Known {
  readonly place: number;
  readonly from: number;
  readonly to: number;
}

/** The traits of a text that something was learnt of. That a question stands is none: nonsense would answer it. */
function knownIn(reader: Reader, text: ReadText, asked: string | null): Known[] {
  const known: Known[] = [];
  const add = (name: string, from: number, to: number): void => {
    const place = reader.placeOf.get(name);
    if (place !== undefined) known.push({ place, from, to });
  };
  for (const { name, from, to } of reader.traits.traitsOf(text)) {
    add(name, from, to);
    if (asked !== null && !name.includes(' ')) add(`${asked}?${name}`, from, to);
  }
  return known;
}

/** Each known trait between two tokens counts once. */
function scoresOf({ learnt }: Reader, known: readonly Known[], from: number, to: number): Float32Array {
  const scores = new Float32Array(learnt.bias.length);
  const seen = new Set<number>();
  for (const k of known) {
    if (k.from < from || k.to > to || seen.has(k.place)) continue;
    seen.add(k.place);
    const end = learnt.starts[k.place + 1] ?? 0;
    for (let i = learnt.starts[k.place] ?? 0; i < end; i += 1) {
      const c = learnt.at[i] ?? 0;
      scores[c] = (scores[c] ?? 0) + (learnt.weight[i] ?? 0);
    }
  }
  const x = 1 / Math.sqrt(Math.max(seen.size, 1));
  for (let c = 0; c < scores.length; c += 1) scores[c] = (scores[c] ?? 0) * x + (learnt.bias[c] ?? 0);
  return scores;
}

/** The parts of a message that may say something of their own: all of it, sentences, clauses, segments, neighbours. */
function unitsOf(tokens: readonly Token[]): [number, number][] {
  if (tokens.length === 0) return [];
  const units = new Map<string, [number, number]>();
  const put = (from: number, to: number): void => void units.set(`${from} ${to}`, [from, to]);
  if (tokens.length <= LONGEST) put(0, tokens.length - 1);
  for (const key of ['sentence', 'clause'] as const)
    for (const [from, to] of runs(tokens, key)) if (to - from < LONGEST) put(from, to);
  const segments = runs(tokens, 'segment');
  segments.forEach(([from, to], i) => {
    put(from, to);
    const next = segments[i + 1];
    if (next && tokens[from]?.sentence === tokens[next[0]]?.sentence) put(from, next[1]);
  });
  return [...units.values()];
}
/** tokens */
const LONGEST = 60;

function runs(tokens: readonly Token[], key: 'sentence' | 'clause' | 'segment'): [number, number][] {
  const found: [number, number][] = [];
  let start = 0;
  for (let i = 1; i <= tokens.length; i += 1)
    if (i === tokens.length || tokens[i]?.[key] !== tokens[start]?.[key]) {
      found.push([start, i - 1]);
      start = i;
    }
  return found;
}
