/**
 * Phrases that others wrote for other purposes, read from ../shared/reference-data where that folder lies beside the
 * project: temperatures and lengths in words, and requests about anything but frost. Absent, they are skipped.
 */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Knowledge } from '../../src/knowledge/facts.js';
import { quantitiesIn, type Found } from '../../src/understand/quantities.js';
import type { LabelledSet } from './labelled.js';
import { heardIn, type Failure, type Tally } from './score.js';

interface Phrase {
  readonly input: string;
  readonly results: readonly { readonly text: string; readonly value: string | null; readonly unit: string }[];
  readonly notSupportedInJavaScript: boolean;
}

/** Beside the project's root. */
const referenceFolder = (root: string): string => join(root, '..', 'shared', 'reference-data');

export function readReference(root: string, name: string): unknown {
  const path = join(referenceFolder(root), name);
  return existsSync(path) ? (JSON.parse(readFileSync(path, 'utf8')) as unknown) : null;
}

export interface OutsideQuantities {
  readonly supported: Tally;
  /** phrases that hold none: empty is right */
  readonly negative: Tally;
}

const TEMPERATURE_UNITS: Readonly<Record<string, Found['unit']>> = { C: 'degC', F: 'degF', K: 'K', Degree: 'deg' };

/** The phrases with a temperature in them exactly; a unit without a number is skipped. */
export function temperaturePhrases(phrases: readonly Phrase[]): OutsideQuantities {
  const withNumber = phrases.filter(
    (p) =>
      p.results.length > 0 && p.results.every((r) => r.value !== null && r.value !== '') && !p.notSupportedInJavaScript,
  );
  return {
    supported: tallyOf(withNumber, (p) => {
      const found = quantitiesIn(p.input).filter((q) => q.kind === 'temperature');
      const expected = p.results.map((r) => ({ value: Number(r.value), unit: TEMPERATURE_UNITS[r.unit] ?? r.unit }));
      return compare(p.input, expected, found);
    }),
    negative: tallyOf(
      phrases.filter((p) => p.results.length === 0),
      (p) =>
        compare(
          p.input,
          [],
          quantitiesIn(p.input).filter((q) => q.kind === 'temperature'),
        ),
    ),
  };
}

/** metres to the unit that our grammar gives a length in */
const LENGTHS: Readonly<Record<string, { readonly unit: Found['unit']; readonly factor: number }>> = {
  Meter: { unit: 'm', factor: 1 },
  Decimeter: { unit: 'cm', factor: 10 },
  Centimeter: { unit: 'cm', factor: 1 },
  Millimeter: { unit: 'mm', factor: 1 },
  Foot: { unit: 'in', factor: 12 },
  Inch: { unit: 'in', factor: 1 },
};

/** The lengths that frost is measured in; every other dimension gives no length. */
export function dimensionPhrases(phrases: readonly Phrase[]): OutsideQuantities {
  const lengths = (text: string): Found[] => quantitiesIn(text).filter((q) => q.kind === 'length');
  const ours = (p: Phrase): boolean =>
    p.results.some((r) => r.unit in LENGTHS) && p.results.every((r) => r.value !== null && r.value !== '');
  return {
    supported: tallyOf(phrases.filter(ours), (p) => {
      const expected = p.results.flatMap((r) => {
        const length = LENGTHS[r.unit];
        return length ? [{ value: Number(r.value) * length.factor, unit: length.unit ?? '' }] : [];
      });
      return compare(p.input, expected, lengths(p.input));
    }),
    negative: tallyOf(
      phrases.filter((p) => !p.results.some((r) => r.unit in LENGTHS)),
      (p) => compare(p.input, [], lengths(p.input)),
    ),
  };
}

function compare(
  text: string,
  expected: readonly { readonly value: number; readonly unit: string }[],
  found: readonly Found[],
): Failure | null {
  const rest = [...found];
  const missed: string[] = [];
  for (const e of expected) {
    const at = rest.findIndex(
      (f) =>
        f.unit === e.unit &&
        typeof f.value === 'number' &&
        Math.abs(f.value - e.value) < 1e-6 * Math.max(1, Math.abs(e.value)),
    );
    if (at >= 0) rest.splice(at, 1);
    else missed.push(`${e.value} ${e.unit}`);
  }
  const wrong = rest.map((f) => `${f.value} ${f.unit ?? ''}`);
  return missed.length + wrong.length === 0 ? null : { text, missed, wrong };
}

export interface OutOfScope {
  /** phrases from which no finding was taken */
  readonly noFinding: Tally;
  readonly noHazard: Tally;
  readonly offTopic: Tally;
}

export function outOfScopePhrases(knowledge: Knowledge, phrases: readonly string[]): OutOfScope {
  const heard = phrases.map((text) => ({ text, heard: heardIn(knowledge, text) }));
  return {
    noFinding: tallyOf(heard, ({ text, heard: h }) =>
      h.understood.length + h.measured.length > 0
        ? {
            text,
            missed: [],
            wrong: [
              ...h.understood.map((u) => `${u.finding}=${u.value}`),
              ...h.measured.map((m) => `${m.part}.${m.quantity}`),
            ],
          }
        : null,
    ),
    noHazard: tallyOf(heard, ({ text, heard: h }) =>
      h.dangers.length > 0 ? { text, missed: [], wrong: h.dangers.map((d) => `${d.hazard} ("${d.span}")`) } : null,
    ),
    offTopic: tallyOf(heard, ({ text, heard: h }) =>
      h.offTopic ? null : { text, missed: ['off-topic'], wrong: [...h.acts, ...(h.topic ? [h.topic] : [])] },
    ),
  };
}

/** Of the labelled utterances, readings and dangers, those that are not taken for something else's. */
export function inScope(knowledge: Knowledge, set: LabelledSet): Tally {
  const texts = [
    ...set.findings.map((f) => ({ text: f.text, role: f.role, asked: f.asked })),
    ...set.readings.map((r) => ({ text: r.text, role: 'technician' as const, asked: r.asked })),
    ...set.hazards.map((h) => ({ text: h.text, role: 'homeowner' as const, asked: undefined })),
  ];
  return tallyOf(texts, ({ text, role, asked }) =>
    heardIn(knowledge, text, role, asked).offTopic ? { text, missed: [], wrong: ['off-topic'] } : null,
  );
}

function tallyOf<T>(items: readonly T[], check: (item: T) => Failure | null): Tally {
  const results = items.map(check);
  return {
    total: results.length,
    right: results.filter((r) => r === null).length,
    failures: results.filter((r) => r !== null),
  };
}
