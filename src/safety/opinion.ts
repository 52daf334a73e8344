/**
 * The second opinion on a message: how sure a classifier is that some danger is told in it, and which. It was taught by
 * the sentences of the knowledge folder, and knows words of which the phrases know nothing. It never raises an alarm.
 */
import type { Knowledge } from '../knowledge/facts.js';
import { read, type ReadText } from '../message/phrases.js';
import { earOf } from './ear.js';
import { listen } from './listen.js';
import { learn, type Learned, type Lesson } from './learn.js';
import { signsOf } from './signs.js';

export interface Opinion {
  /** probability, 0 to 1, that any danger is told */
  readonly sure: number;
  /** which it may be, the likeliest first */
  readonly hazards: readonly string[];
  /** the same probability for one danger, against none */
  readonly sureOf: (hazard: string) => number;
}

/** Where weights that were learnt before are kept; without one they are learnt at the first message. */
export interface Memory {
  readonly recall: () => Learned | null;
  readonly keep: (learned: Learned) => void;
}
const memories = new WeakMap<Knowledge, Memory>();
export const remember = (knowledge: Knowledge, memory: Memory): void => void memories.set(knowledge, memory);

interface Mind {
  readonly ear: unknown;
  readonly learned: Learned;
  readonly index: ReadonlyMap<string, number>;
  readonly hazards: readonly string[];
}
/** by what they learnt from: a folder with other words for the talk has the same opinion */
const minds = new WeakMap<Knowledge['lessons'], Mind>();

function mindOf(knowledge: Knowledge): Mind {
  const ear = earOf(knowledge);
  let mind = minds.get(knowledge.lessons);
  if (mind?.ear !== ear) {
    const memory = memories.get(knowledge);
    let learned = memory?.recall() ?? null;
    if (!learned) memory?.keep((learned = taught(knowledge)));
    learned ??= taught(knowledge);
    const index = new Map(learned.signs.map((s, i) => [s, i]));
    minds.set(knowledge.lessons, (mind = { ear, learned, index, hazards: [...knowledge.hazards.keys()] }));
  }
  return mind;
}

export function opinionOn(knowledge: Knowledge, text: ReadText): Opinion {
  const { learned, index, hazards } = mindOf(knowledge);
  const { weights, worth, bias, scale } = learned;
  const columns = hazards.length + 1;
  const signs = signsIn(knowledge, text);
  const known = signs.flatMap((s) => index.get(s) ?? []);
  // a text of words that were never met says little
  const length = Math.sqrt(known.reduce((sum, i) => sum + (worth[i] ?? 0) ** 2, signs.length - known.length)) || 1;
  const sums = Float64Array.from(bias);
  for (const i of known) {
    const part = (worth[i] ?? 0) / (length * scale);
    for (let c = 0; c < columns; c += 1) sums[c] = (sums[c] ?? 0) + (weights[i * columns + c] ?? 0) * part;
  }
  const most = Math.max(...sums);
  const odds = sums.map((s) => Math.exp(s - most));
  const dangers = odds.subarray(0, hazards.length);
  const danger = dangers.reduce((sum, o) => sum + o, 0);
  const top = Math.max(...dangers);
  const likely = [...dangers.keys()]
    .filter((c) => (dangers[c] ?? 0) >= top * RIVAL)
    .sort((a, b) => (dangers[b] ?? 0) - (dangers[a] ?? 0));
  const none = odds[hazards.length] ?? 0;
  const against = (odd: number): number => odd / (odd + none);
  return {
    sure: against(danger),
    sureOf: (hazard) => against(dangers[hazards.indexOf(hazard)] ?? 0),
    hazards: likely.map((c) => hazards[c] ?? ''),
  };
}

/** a danger less likely than the likeliest by more than this is not thought of */
const RIVAL = 0.1;

const signsIn = (knowledge: Knowledge, text: ReadText): string[] => signsOf(text, earOf(knowledge).spots(text));

/** Every sentence of the folder that is known to tell of a danger, or of none. */
function taught(knowledge: Knowledge): Learned {
  const lessons: Lesson[] = [];
  const teach = (sentence: string, tells: readonly number[]): void => {
    lessons.push({ signs: signsIn(knowledge, read(sentence)), tells });
  };
  [...knowledge.hazards.values()].forEach((hazard, i) => {
    for (const sentence of hazard.examples) teach(sentence, [i]);
    for (const sentence of hazard.harmless) teach(sentence, []);
  });
  const hazards = [...knowledge.hazards.keys()];
  for (const { id, danger, harmless } of knowledge.lessons.values()) {
    for (const sentence of danger) teach(sentence, [hazards.indexOf(id)]);
    for (const sentence of harmless) teach(sentence, []);
  }
  // what is found may be a danger as well: "the milk is warm"
  const isHarmless = (sentence: string): boolean => listen(knowledge, sentence, 'homeowner').length === 0;
  for (const finding of knowledge.findings.values())
    for (const { examples } of Object.values(finding.says))
      for (const sentence of examples) if (isHarmless(sentence)) teach(sentence, []);
  return learn(lessons, knowledge.hazards.size);
}
