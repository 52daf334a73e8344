/** Quantities of a text into readings: each value to its part and to the temperature it was taken at. */
import type { Knowledge, QuantityName, Reading } from '../knowledge/facts.js';
import type { ReadingIn, Unit } from '../message/incoming.js';
import type { Match, ReadText } from '../message/phrases.js';
import { normalForm } from '../message/text.js';
import type { Meaning } from './ear.js';
import { quantitiesIn, type Found } from './quantities.js';

export interface MeasuredText {
  readonly reading: ReadingIn;
  readonly span: string;
  /** the temperature was said in words ("room temp"), not in degrees */
  readonly atAssumed: boolean;
}

export interface MeasuredResult {
  readonly readings: readonly MeasuredText[];
  /** bare degrees where both scales are believable: the number waits for its unit */
  readonly unitless: number | null;
}

const QUANTITY: Readonly<Partial<Record<Found['kind'], QuantityName>>> = {
  resistance: 'resistance',
  voltage: 'voltage',
  current: 'current',
  temperature: 'temperature',
  'relative-humidity': 'relative-humidity',
  length: 'thickness',
  continuity: 'continuity',
};
const AT = /(?:\bat|@|\bin|\bwith it at|\bcold,?|\bwarm,?)\s*(?:about|around|roughly|approx\.?)?\s*$/;
const ICE_WATER = /\b(?:ice[- ]?(?:water|bath)|iced water|water and ice|slush)\b/;
const ROOM = /\b(?:room temp(?:erature)?|ambient|on the bench|at room)\b/;
/** degC taken for the words where a person gives no number (from memory: an ordinary kitchen) */
const ROOM_C = 21;
const ICE_C = 0;

export function measuredIn(
  knowledge: Knowledge,
  text: ReadText,
  matches: readonly Match<Meaning>[],
  asked: string | null,
  units: 'us' | 'si' | null,
  /** the reading taken last: "still OL at -17C" is of that part */
  last: string | null = null,
): MeasuredResult {
  const found = quantitiesIn(text.text);
  if (found.length === 0 && asked === null) return { readings: [], unitless: null };
  const normal = normalForm(text.text);
  const askedStep = asked ? (knowledge.readings.get(asked) ?? null) : null;
  const lastStep = last ? (knowledge.readings.get(last) ?? null) : null;
  const parts = matches
    .filter((m): m is Match<Extract<Meaning, { kind: 'part' }>> => m.owner.kind === 'part')
    .map((m) => ({ part: m.owner.part, start: text.tokens[m.from]?.start ?? 0, end: text.tokens[m.to]?.end ?? 0 }));
  const used = new Set<Found>();
  const readings: MeasuredText[] = [];
  let unitless: number | null = null;

  const electrical = (f: Found): boolean =>
    f.kind === 'resistance' || f.kind === 'continuity' || f.kind === 'voltage' || f.kind === 'current';
  found.forEach((f, i) => {
    if (!electrical(f) && !(f.kind === 'bare' && askedStep && isElectrical(askedStep) && i === 0)) return;
    if (f.weak && !standsBehind(f, parts, knowledge)) return;
    const carried = parts.every((p) => COMPARTMENTS.has(p.part)) && f.kind !== 'bare' ? lastStep : null;
    const step = stepFor(knowledge, f, parts, askedStep ?? carried);
    if (!step) return;
    used.add(f);
    const at =
      temperatureAfter(found, i, normal, used, units, parts) ?? temperatureBefore(found, i, normal, used, units, parts);
    const wordsAt = at === null ? temperatureInWords(normal, f, found[i + 1]) : null;
    if (at?.ask) unitless = at.value;
    const value = valueFor(step, f);
    readings.push({
      reading: {
        part: step.part,
        quantity: step.quantity,
        value,
        ...unitOf(step, f, value),
        ...(at && !at.ask ? { atC: at.value } : wordsAt !== null ? { atC: wordsAt } : {}),
      },
      span: text.text.slice(f.start, f.end),
      atAssumed: at === null && wordsAt === ROOM_C,
    });
  });

  for (const f of found) {
    if (used.has(f)) continue;
    const quantity = QUANTITY[f.kind];
    const bareAsked = f.kind === 'bare' && askedStep && !isElectrical(askedStep) && readings.length === 0;
    if (quantity !== 'temperature' && quantity !== 'relative-humidity' && quantity !== 'thickness' && !bareAsked)
      continue;
    const near = nearest(parts, f, (part) =>
      knowledge.readings.has(`${part}.${quantity ?? askedStep?.quantity ?? ''}`),
    );
    const step =
      (near ? knowledge.readings.get(`${near}.${quantity ?? askedStep?.quantity ?? ''}`) : null) ??
      (askedStep && (quantity === undefined || askedStep.quantity === quantity)
        ? askedStep
        : quantity === 'thickness'
          ? knowledge.readings.get('frost.thickness')
          : null);
    if (!step || typeof f.value !== 'number') continue;
    const unit = f.unit === 'deg' || f.kind === 'bare' ? bareUnit(step, f.value, units) : (f.unit as Unit);
    if (unit === null) {
      unitless = f.value;
      continue;
    }
    used.add(f);
    readings.push({
      reading: { part: step.part, quantity: step.quantity, value: f.value, unit },
      span: text.text.slice(f.start, f.end),
      atAssumed: false,
    });
  }
  return { readings, unitless };
}

const isElectrical = (s: Reading): boolean =>
  s.quantity === 'resistance' || s.quantity === 'continuity' || s.quantity === 'voltage' || s.quantity === 'current';

/** The part named nearest, for which this quantity is known; else the one asked about. */
function stepFor(knowledge: Knowledge, f: Found, parts: readonly Place[], asked: Reading | null): Reading | null {
  const wanted: readonly QuantityName[] =
    f.kind === 'bare'
      ? asked
        ? [asked.quantity]
        : []
      : f.value === 'OL' || f.value === 0
        ? ['resistance', 'continuity']
        : [QUANTITY[f.kind] ?? 'resistance', ...(f.kind === 'continuity' ? (['resistance'] as const) : [])];
  const near = nearest(parts, f, (part) => wanted.some((q) => knowledge.readings.has(`${part}.${q}`)));
  const order = near ? [near, ...(asked ? [asked.part] : [])] : asked ? [asked.part] : [];
  for (const part of order)
    for (const quantity of wanted) {
      if (f.kind === 'continuity' && quantity === 'resistance' && f.value !== 'open') continue;
      if (asked && part === asked.part && wanted.includes(asked.quantity)) return asked;
      const step = knowledge.readings.get(`${part}.${quantity}`);
      if (step) return step;
    }
  return null;
}

interface Place {
  readonly part: string;
  readonly start: number;
  readonly end: number;
}

/** Before the value is nearer than after it: people name the part, then the number. */
function nearest(parts: readonly Place[], f: Found, fits: (part: string) => boolean): string | null {
  let best: { part: string; distance: number } | null = null;
  for (const p of parts) {
    if (!fits(p.part)) continue;
    const distance = p.end <= f.start ? f.start - p.end : p.start >= f.end ? (p.start - f.end) * 2 + 6 : 0;
    if (distance < 70 && (!best || distance < best.distance)) best = { part: p.part, distance };
  }
  return best?.part ?? null;
}

function valueFor(step: Reading, f: Found): ReadingIn['value'] {
  if (step.quantity === 'continuity') {
    if (f.value === 'OL') return 'open';
    if (typeof f.value === 'number') return 'closed';
  }
  if (step.quantity === 'resistance' && f.value === 'open') return 'OL';
  return f.value;
}

function unitOf(step: Reading, f: Found, value: ReadingIn['value']): { unit?: Unit } {
  if (typeof value !== 'number') return {};
  const bare: Readonly<Partial<Record<QuantityName, Unit>>> = { resistance: 'ohm', voltage: 'V', current: 'A' };
  const unit = f.kind === 'bare' ? bare[step.quantity] : (f.unit as Unit);
  return unit ? { unit } : {};
}

interface At {
  readonly value: number;
  readonly ask: boolean;
}

/** "at 73F", "@ 70": the temperature that stands right behind a meter's value. */
function temperatureAfter(
  found: readonly Found[],
  i: number,
  normal: string,
  used: Set<Found>,
  units: 'us' | 'si' | null,
  parts: readonly Place[],
): At | null {
  const here = found[i];
  const next = found[i + 1];
  if (!here || !next || (next.kind !== 'temperature' && next.kind !== 'bare') || typeof next.value !== 'number')
    return null;
  const between = normal.slice(here.end, next.start);
  if (between.length > 40 || /[.;\n]/.test(between)) return null;
  if (!AT.test(between) && next.kind !== 'temperature') return null;
  // another part in between: the temperature is that part's
  if (parts.some((p) => p.start >= here.end && p.end <= next.start && !COMPARTMENTS.has(p.part))) return null;
  used.add(next);
  const unit = next.kind === 'bare' || next.unit === 'deg' ? degreesOf(next.value, units) : (next.unit as Unit);
  if (unit === null) return { value: next.value, ask: true };
  return { value: round1(toC(next.value, unit)), ask: false };
}

/** "in a freezer at 0F, OL": the temperature that stands right before a meter's value, with no other part between. */
function temperatureBefore(
  found: readonly Found[],
  i: number,
  normal: string,
  used: Set<Found>,
  units: 'us' | 'si' | null,
  parts: readonly Place[],
): At | null {
  const here = found[i];
  const before = found[i - 1];
  if (!here || before?.kind !== 'temperature' || typeof before.value !== 'number' || used.has(before)) return null;
  if (here.start - before.end > 30 || /[.;\n]/.test(normal.slice(before.end, here.start))) return null;
  const named = parts.find((p) => p.end <= before.start && !COMPARTMENTS.has(p.part));
  if (!named || parts.some((p) => p.start >= before.end && p.end <= here.start)) return null;
  used.add(before);
  const unit = before.unit === 'deg' ? degreesOf(before.value, units) : (before.unit as Unit);
  return unit === null ? { value: before.value, ask: true } : { value: round1(toC(before.value, unit)), ask: false };
}

/** A freezer may be where a part was chilled; its name there is no part of its own. */
const COMPARTMENTS = new Set(['freezer', 'fresh-food', 'room']);

/** "bimetal closed": the word stands right behind a part that has continuity. */
function standsBehind(f: Found, parts: readonly Place[], knowledge: Knowledge): boolean {
  return parts.some(
    (p) => p.end <= f.start && f.start - p.end <= BEHIND && knowledge.readings.has(`${p.part}.continuity`),
  );
}
const BEHIND = 12;

function temperatureInWords(normal: string, f: Found, next: Found | undefined): number | null {
  const after = normal.slice(f.end, Math.min(next?.start ?? normal.length, f.end + 60));
  const before = normal.slice(Math.max(0, f.start - 40), f.start);
  if (ICE_WATER.test(after) || ICE_WATER.test(before)) return ICE_C;
  return ROOM.test(after) || ROOM.test(before) ? ROOM_C : null;
}

const toC = (value: number, unit: Unit): number =>
  unit === 'degF' ? ((value - 32) * 5) / 9 : unit === 'K' ? value - 273.15 : value;
const round1 = (v: number): number => Math.round(v * 10) / 10;

/** Bare degrees: 45 and above cannot be a kitchen's Celsius; below -25 is no Fahrenheit of a freezer; between, the person's habit or a question. */
function degreesOf(value: number, units: 'us' | 'si' | null): Unit | null {
  if (value >= 45) return 'degF';
  if (value <= -25) return 'degC';
  return units === 'us' ? 'degF' : units === 'si' ? 'degC' : null;
}

function bareUnit(step: Reading, value: number, units: 'us' | 'si' | null): Unit | null {
  if (step.quantity === 'temperature') return degreesOf(value, units);
  if (step.quantity === 'relative-humidity') return '%';
  if (step.quantity === 'thickness') return units === 'si' ? 'mm' : units === 'us' ? 'in' : null;
  return null;
}
