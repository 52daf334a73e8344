/** Quantities of a text into readings: each value to its part and to the temperature it was taken at. */
import type { Mark } from '../case/events.js';
import type { Knowledge, QuantityName, Reading } from '../knowledge/facts.js';
import type { ReadingIn, Unit } from '../message/incoming.js';
import type { Match, ReadText } from '../message/phrases.js';
import { normalForm } from '../message/text.js';
import type { Meaning } from './ear.js';
import { plateIn } from './plates.js';
import { quantitiesIn, type Found } from './quantities.js';
import { warmthNear, withShown } from './shown.js';

export interface MeasuredText {
  readonly reading: ReadingIn;
  readonly span: string;
  /** the temperature was said in words ("room temp"), not in degrees */
  readonly atAssumed: boolean;
  /** the numbers stamped on a thermostat, where they were said with the reading */
  readonly mark: Mark | null;
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

export function measuredIn(
  knowledge: Knowledge,
  text: ReadText,
  matches: readonly Match<Meaning>[],
  asked: string | null,
  units: 'us' | 'si' | null,
  /** the reading taken last: "still OL at -17C" is of that part */
  last: string | null = null,
): MeasuredResult {
  const askedStep = asked ? (knowledge.readings.get(asked) ?? null) : null;
  const plate = plateIn(text.text, quantitiesIn(text.text, askedStep?.quantity === 'resistance'));
  const found = withShown(plate.measured, text, matches, askedStep?.quantity ?? null);
  const normal = normalForm(text.text);
  for (let i = found.length - 1; i >= 0; i -= 1)
    if (found[i] && isNotTaken(found[i] as Found, normal)) found.splice(i, 1);
  if (found.length === 0) return { readings: [], unitless: null };
  const lastStep = last ? (knowledge.readings.get(last) ?? null) : null;
  const parts = partsIn(text, matches);
  const used = new Set<Found>();
  const readings: MeasuredText[] = [];
  let unitless: number | null = null;

  if (!askedStep) found.forEach((f, i) => (found[i] = namedBy(f, parts, normal) ?? f));
  const scale = units ?? scaleIn(found);

  const electrical = (f: Found): boolean =>
    f.kind === 'resistance' || f.kind === 'continuity' || f.kind === 'voltage' || f.kind === 'current';
  found.forEach((f, i) => {
    if (!electrical(f) && !(f.kind === 'bare' && askedStep && isElectrical(askedStep) && i === 0)) return;
    if (f.weak && askedStep?.quantity !== 'continuity' && !standsBehind(f, parts, knowledge)) return;
    const carried = parts.every((p) => COMPARTMENTS.has(p.part)) && f.kind !== 'bare' ? lastStep : null;
    const step = stepFor(knowledge, f, parts, normal, askedStep ?? carried);
    if (!step) return;
    used.add(f);
    const at =
      temperatureAfter(found, i, normal, used, scale, parts, step.part) ??
      temperatureBefore(found, i, normal, used, scale, parts);
    const wordsAt = at === null ? warmthNear(knowledge, text, matches, f.start, f.end) : null;
    if (at?.ask) unitless = at.value;
    const value = valueFor(step, f);
    if (readings.some((r) => r.reading.value === value && `${r.reading.part}.${r.reading.quantity}` === step.id))
      return;
    readings.push({
      reading: {
        part: step.part,
        quantity: step.quantity,
        value,
        ...unitOf(step, f, value),
        ...(at && !at.ask ? { atC: at.value } : wordsAt !== null ? { atC: wordsAt } : {}),
        ...(plate.heater && step.part === 'defrost-heater' ? { rating: plate.heater } : {}),
      },
      mark: step.part === 'defrost-thermostat' ? plate.mark : null,
      span: text.text.slice(f.start, f.end),
      atAssumed: wordsAt !== null,
    });
  });

  for (const f of found) {
    if (used.has(f)) continue;
    const quantity = QUANTITY[f.kind];
    const bareAsked = f.kind === 'bare' && askedStep && !isElectrical(askedStep) && readings.length === 0;
    if (quantity !== 'temperature' && quantity !== 'relative-humidity' && quantity !== 'thickness' && !bareAsked)
      continue;
    const near = nearest(parts, f, normal, (part) =>
      knowledge.readings.has(`${part}.${quantity ?? askedStep?.quantity ?? ''}`),
    );
    const step =
      (near ? knowledge.readings.get(`${near}.${quantity ?? askedStep?.quantity ?? ''}`) : null) ??
      (askedStep && (quantity === undefined || askedStep.quantity === quantity) ? askedStep : null);
    if (!step || typeof f.value !== 'number') continue;
    const unit = f.unit === 'deg' || f.kind === 'bare' ? bareUnit(step, f.value, scale) : (f.unit as Unit);
    if (unit === null) {
      unitless = f.value;
      continue;
    }
    used.add(f);
    readings.push({
      reading: { part: step.part, quantity: step.quantity, value: f.value, unit },
      span: text.text.slice(f.start, f.end),
      atAssumed: false,
      mark: null,
    });
  }
  return { readings, unitless };
}

/** "20 ohms I should see?", "60-40 printed on it": what was expected, or stands on the part. */
const isNotTaken = (f: Found, normal: string): boolean =>
  EXPECTED.test(normal.slice(f.end)) || (f.kind === 'bare' && STAMPED.test(normal.slice(f.end)));
const EXPECTED =
  /^\s*(?:(?:that|what)\s+)?(?:i|we|it|they|you)?\s*(?:should|ought to|supposed to|meant to)\s+(?:i\s+|it\s+)?(?:be|see|get|read|have|show)\b/;
const STAMPED =
  /^(?:\s*-\s*\d+)?\s*(?:is\s+)?(?:printed|stamped|marked|written|engraved|on the (?:label|stat|bimetal|thermostat|plate))\b/;

/** The parts that are named, each with whether it is but a word of another's name (the heater in "heater plug"). */
function partsIn(text: ReadText, matches: readonly Match<Meaning>[]): Place[] {
  const parts = matches.flatMap((m) => (m.owner.kind === 'part' ? [{ ...m, part: m.owner.part }] : []));
  return parts.map((m) => ({
    part: m.part,
    start: text.tokens[m.from]?.start ?? 0,
    end: text.tokens[m.to]?.end ?? 0,
    inside: parts.some((o) => o.from <= m.from && m.to <= o.to && o.to - o.from > m.to - m.from),
  }));
}

const isElectrical = (s: Reading): boolean =>
  s.quantity === 'resistance' || s.quantity === 'continuity' || s.quantity === 'voltage' || s.quantity === 'current';

/** The part named nearest, for which this quantity is known; else the one asked about. */
function stepFor(
  knowledge: Knowledge,
  f: Found,
  parts: readonly Place[],
  normal: string,
  asked: Reading | null,
): Reading | null {
  const wanted: readonly QuantityName[] =
    f.kind === 'bare'
      ? asked
        ? [asked.quantity]
        : []
      : f.kind === 'resistance' && (f.value === 'OL' || f.value === 0)
        ? ['resistance', 'continuity']
        : [QUANTITY[f.kind] ?? 'resistance', ...(f.kind === 'continuity' ? (['resistance'] as const) : [])];
  const near = nearest(parts, f, normal, (part) => wanted.some((q) => knowledge.readings.has(`${part}.${q}`)));
  // "bimetal 0.3 ohms": the part that is named has no such quantity; a low resistance is continuity, else it is no reading
  const named = nearest(
    parts.filter((p) => !p.inside && !COMPARTMENTS.has(p.part) && p.part !== 'frost' && p.part !== 'evaporator'),
    f,
    normal,
    () => true,
  );
  if (
    named !== null &&
    named !== near &&
    f.kind === 'resistance' &&
    !wanted.some((q) => knowledge.readings.has(`${named}.${q}`))
  ) {
    const low = typeof f.value === 'number' && f.unit === 'ohm' && f.value < CONTINUITY_OHM;
    return low ? (knowledge.readings.get(`${named}.continuity`) ?? null) : null;
  }
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

/** ohm; below it a closed contact is read through its leads (common practice) */
const CONTINUITY_OHM = 5;

interface Place {
  readonly part: string;
  readonly start: number;
  readonly end: number;
  readonly inside: boolean;
}

/** "0 V at the heater": right behind the value is nearest; else before it is nearer than after it, and a comma parts. */
function nearest(parts: readonly Place[], f: Found, normal: string, fits: (part: string) => boolean): string | null {
  let best: { part: string; distance: number } | null = null;
  for (const p of parts) {
    if (!fits(p.part)) continue;
    const before = p.end <= f.start;
    const between = before ? normal.slice(p.end, f.start) : normal.slice(f.end, p.start);
    const apart = /[,;]/.test(between) ? COMMA : 0;
    const distance = before
      ? between.length + apart
      : p.start < f.end || BELONGS.test(between)
        ? 0
        : between.length * 2 + 6 + apart;
    if (distance < REACH && (!best || distance < best.distance)) best = { part: p.part, distance };
  }
  return best?.part ?? null;
}
/** characters, as distance counts them */
const REACH = 110;
const BELONGS = /^\s*(?:at|on|across|of|from|for|leaving|out of|into|through|to)\s+(?:the |my |its )?$/;
const COMMA = 8;

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
  own: string,
): At | null {
  const here = found[i];
  const next = found[i + 1];
  if (!here || !next || (next.kind !== 'temperature' && next.kind !== 'bare') || typeof next.value !== 'number')
    return null;
  const between = normal.slice(here.end, next.start);
  if (between.length > 60 || (/[.;\n]/.test(between) && !ITS_TEMPERATURE.test(between))) return null;
  if (!AT.test(between) && next.kind !== 'temperature') return null;
  // another part in between: the temperature is that part's
  if (
    parts.some(
      (p) =>
        p.start >= here.end &&
        p.end <= next.start &&
        !COMPARTMENTS.has(p.part) &&
        p.part !== 'frost' &&
        p.part !== own &&
        !(p.part === 'evaporator' && ON_THE_COIL.has(own)),
    )
  )
    return null;
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
  if (here.start - before.end > 60 || /[.;\n]/.test(normal.slice(before.end, here.start))) return null;
  const named = parts.find((p) => p.end <= before.start && !COMPARTMENTS.has(p.part));
  const between = parts.filter(
    (p) => p.start >= before.end && p.end <= here.start && !p.inside && !COMPARTMENTS.has(p.part),
  );
  // "at 0F the bimetal is closed": the part itself may stand between
  const together =
    /\bat\s*$/.test(normal.slice(0, before.start)) || /\bwhen\b|\bwith\b/.test(normal.slice(before.end, here.start));
  const bare = between.length === 0 && ONLY_BETWEEN.test(normal.slice(before.end, here.start));
  if (named ? between.length > 0 : !bare && (between.length !== 1 || !together)) return null;
  used.add(before);
  const unit = before.unit === 'deg' ? degreesOf(before.value, units) : (before.unit as Unit);
  return unit === null ? { value: before.value, ask: true } : { value: round1(toC(before.value, unit)), ask: false };
}

/** "32F water: 16.3K" */
const ONLY_BETWEEN = /^\s*(?:water|ice water|slush|ice|bath|room|air|there)?\s*[:=,]?\s*$/;
/** "open. Temp on the clip 2 F": of the same part, in a sentence of its own */
const ITS_TEMPERATURE = /^[.;\n]\s*(?:the\s+)?temp(?:erature)?\s+(?:on|at|of|there)\b[^.;\n]*$/;

/** What sits on the coil has its temperature. */
const ON_THE_COIL = new Set(['defrost-sensor', 'defrost-thermostat']);
/** A freezer may be where a part was chilled; its name there is no part of its own. */
const COMPARTMENTS = new Set(['freezer', 'fresh-food', 'room']);

/** "bimetal closed": the word stands right behind a part that has continuity. */
function standsBehind(f: Found, parts: readonly Place[], knowledge: Knowledge): boolean {
  return parts.some(
    (p) => p.end <= f.start && f.start - p.end <= BEHIND && knowledge.readings.has(`${p.part}.continuity`),
  );
}
const BEHIND = 12;

const toC = (value: number, unit: Unit): number =>
  unit === 'degF' ? ((value - 32) * 5) / 9 : unit === 'K' ? value - 273.15 : value;
const round1 = (v: number): number => Math.round(v * 10) / 10;

/** The scale of the temperatures that were said with one, or can only be Fahrenheit. */
function scaleIn(found: readonly Found[]): 'us' | 'si' | null {
  for (const f of found) {
    if (f.unit === 'degF' || f.unit === 'in') return 'us';
    if (f.unit === 'degC' || f.unit === 'cm' || f.unit === 'mm') return 'si';
    if (f.unit === 'deg' && typeof f.value === 'number' && degreesOf(f.value, null) === 'degF') return 'us';
  }
  return null;
}

/** "FF 46", "outlet good at 120", "htr 28": a number right behind a part that can only mean one thing there. */
function namedBy(f: Found, parts: readonly Place[], normal: string): Found | null {
  const part =
    parts.filter((p) => p.end <= f.start && ONLY_THIS.test(normal.slice(p.end, f.start))).at(-1) ??
    parts.find((p) => p.start >= f.end && BELONGS.test(normal.slice(f.end, p.start)));
  const rule = part && SHORTHAND[part.part];
  if (f.kind !== 'bare' || !rule || typeof f.value !== 'number' || f.value < rule.from || f.value > rule.to)
    return null;
  if (
    !/^\s*(?:[,.;!?)@]|$|and\b|at\b|in\b|but\b|with\b|when\b|while\b|ff\b|fz\b|frz\b|cold\b|now\b)/.test(
      normal.slice(f.end),
    )
  )
    return null;
  return { ...f, kind: rule.kind, unit: rule.unit };
}
const ONLY_THIS =
  /^(?:'s|[\s:=~-]|\b(?:is|was|at|reads?|reading|says?|shows?|showing|holding|sitting|running|temps?|temperature|around|about|good|fine|now|only|just|still|currently|measures|measured|steady|section|side|compartment)\b)*$/;
/** By part: what a bare number right behind its name is, and between which values it is believed to be that. */
const SHORTHAND: Readonly<
  Record<string, Pick<Found, 'kind' | 'unit'> & { readonly from: number; readonly to: number }>
> = {
  freezer: { kind: 'temperature', unit: 'deg', from: -40, to: 110 },
  'fresh-food': { kind: 'temperature', unit: 'deg', from: 10, to: 110 },
  evaporator: { kind: 'temperature', unit: 'deg', from: -50, to: 110 },
  supply: { kind: 'voltage', unit: 'V', from: 80, to: 260 },
  'heater-circuit': { kind: 'voltage', unit: 'V', from: 0, to: 260 },
  'defrost-output': { kind: 'voltage', unit: 'V', from: 0, to: 260 },
  'defrost-heater': { kind: 'resistance', unit: 'ohm', from: 5, to: 2000 },
};

/** Bare degrees: 45 and above cannot be a kitchen's Celsius; below -25 is no Fahrenheit of a freezer; between, the person's habit or a question. */
function degreesOf(value: number, units: 'us' | 'si' | null): Unit | null {
  if (value >= 45) return 'degF';
  if (value <= -25) return 'degC';
  return units === 'us' ? 'degF' : units === 'si' ? 'degC' : null;
}

function bareUnit(step: Reading, value: number, units: 'us' | 'si' | null): Unit | null {
  if (step.quantity === 'temperature') return degreesOf(value, units) ?? onlyBelievable(step, value);
  if (step.quantity === 'relative-humidity') return '%';
  if (step.quantity === 'thickness') return units === 'si' ? 'mm' : units === 'us' ? 'in' : null;
  return null;
}

/** "-18" in a freezer, "9" in a fridge: where the part can have that in one of the scales only. Its states say what it can have. */
function onlyBelievable(step: Reading, value: number): Unit | null {
  const ends = Object.entries(step.numbers).filter(([id, n]) => n.unit === 'degC' && !id.startsWith('too-'));
  const low = Math.min(
    ...ends.filter(([id]) => id.endsWith('-from')).map(([, n]) => n.value),
    step.numbers['too-cold-below']?.value ?? Infinity,
  );
  const high = Math.max(...ends.filter(([id]) => id.endsWith('-to')).map(([, n]) => n.value));
  const fits = (celsius: number): boolean => celsius >= low && celsius <= high;
  const [c, f] = [fits(value), fits(toC(value, 'degF'))];
  return c === f ? null : c ? 'degC' : 'degF';
}
