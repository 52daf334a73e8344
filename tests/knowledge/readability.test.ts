// What a homeowner reads is at most US grade 6, a safety line grade 5, and no sentence is longer than 20 words.

import { describe, expect, test } from 'vitest';
import type { Ask } from '../../src/knowledge/facts.js';
import { realKnowledge } from '../support/knowledge.js';
import { grade, sentencesOf, syllablesOf, type Sentence } from './readability.js';

interface Read extends Sentence {
  readonly file: string;
  readonly safety: boolean;
}

/** Every sentence of the knowledge folder that a homeowner is shown, not those of page, desk and report; names, labels, parts and tools are no sentences. */
function homeownerScript(): Read[] {
  const k = realKnowledge();
  const out: Read[] = [];
  const add = (file: string, texts: readonly string[], safety = false): void => {
    for (const text of texts) for (const sentence of sentencesOf(text)) out.push({ ...sentence, file, safety });
  };
  const asked = ({ question, why, how }: Ask): string[] => [question, why, ...how];
  for (const f of k.findings.values()) add(`findings/${f.id}.yaml`, asked(f.ask.homeowner));
  for (const r of k.readings.values())
    add(`readings/${r.part}.yaml`, [...asked(r.ask.homeowner), ...Object.values(r.why).map((w) => w.homeowner)]);
  for (const f of k.faults.values()) {
    const { steps, verify } = f.repair.homeowner;
    add(`faults/${f.id}.yaml`, [f.what.homeowner, f.shows.homeowner, ...steps, ...verify, ...f.prevent.homeowner]);
    add(`faults/${f.id}.yaml`, f.cautions.homeowner, true);
  }
  for (const h of k.hazards.values()) add(`hazards/${h.id}.yaml`, [...h.now.homeowner, ...h.not.homeowner], true);
  for (const a of k.access.values()) add('access.yaml', a.cautions.homeowner, true);
  for (const t of k.topics.values()) add(`topics/${t.id}.yaml`, t.answer.homeowner);
  for (const [key, words] of k.words)
    if (!/^(?:page|picture|value|verdict|list|degrees|desk|report)\b/.test(key))
      add(`words: ${key}`, [words.homeowner]);
  return out;
}

const script = homeownerScript();
const safety = script.filter((s) => s.safety);

/** The files that are hardest to read, for the message of a failed test. */
function hardest(sentences: readonly Read[]): string {
  const by = new Map<string, Read[]>();
  for (const s of sentences) by.set(s.file, [...(by.get(s.file) ?? []), s]);
  return [...by]
    .map(([file, own]) => ({ file, grade: grade(own) }))
    .sort((a, b) => b.grade - a.grade)
    .slice(0, 10)
    .map((x) => `${x.file} ${x.grade.toFixed(1)}`)
    .join('\n');
}

test('there is a script to judge', () => {
  expect(script.length).toBeGreaterThan(800);
  expect(safety.length).toBeGreaterThan(150);
});

test('the whole of what a homeowner reads is at most grade 6', () => {
  expect(grade(script), hardest(script)).toBeLessThanOrEqual(6);
});

test('safety lines are at most grade 5', () => {
  expect(grade(safety), hardest(safety)).toBeLessThanOrEqual(5);
});

test('no sentence a homeowner reads has more than 20 words', () => {
  const long = script.filter((s) => s.words.length > 20).map((s) => `${s.file} (${s.words.length}): ${s.text}`);
  expect(long).toEqual([]);
});

describe('the measure itself', () => {
  // The lowest grade there can be: one word of one syllable a sentence, 0.39 + 11.8 - 15.59 = -3.40, as the formula's
  // descriptions say; the second line is the formula worked by hand.
  test('gives the published lowest grade and a grade worked by hand', () => {
    expect(grade(sentencesOf('Stop. Go. Run.'))).toBeCloseTo(-3.4, 10);
    expect(grade(sentencesOf('The freezer is cold. Shut the door.'))).toBeCloseTo(
      0.39 * 3.5 + 11.8 * (8 / 7) - 15.59,
      10,
    );
  });

  // Syllables as dictionaries divide these words (from memory).
  test.each([
    ['smoke', 1],
    ['closed', 1],
    ['opened', 2],
    ['heated', 2],
    ['people', 2],
    ['little', 2],
    ['places', 2],
    ['houses', 2],
    ['leaves', 1],
    ['refrigerator', 5],
    ['radio', 3],
    ['question', 2],
    ['evaporator', 5],
    ['dial', 2],
    ['going', 2],
    ['usual', 3],
  ])('%s has %d syllables', (word, count) => {
    expect(syllablesOf(word)).toBe(count);
  });

  test('a sentence ends at a stop, not inside a number', () => {
    expect(sentencesOf('Keep it at 37.5 F (3 C). Is it warm?\nMove it').map((s) => s.words.length)).toEqual([7, 3, 2]);
    expect(sentencesOf('Before, you said: {was}.')[0]?.words).toEqual(['Before', 'you', 'said', '{was}']);
  });
});
