/** A reading as it is typed after a command, made into what a front end would state; refused by its field where it is not one. */
import type { Knowledge, QuantityName, Reading } from '../knowledge/facts.js';
import type { ReadingIn, Unit } from '../message/incoming.js';
import { read } from '../message/phrases.js';
import { kelvinsFromFahrenheitDegrees, quantityOf, toSi } from '../physics/units.js';
import type { Mark } from '../case/events.js';
import { matcherOf } from '../understand/ear.js';
import { quantitiesIn, type Found } from '../understand/quantities.js';
import { withShown } from '../understand/shown.js';
import { UsageProblem } from './problem.js';

export const refuse = (field: string, message: string): never => {
  throw new UsageProblem(`${field}: ${message.replaceAll('\u2212', '-')}`);
};

/** The part and quantity of a reading, and its value where one was typed. */
export interface Typed {
  readonly step: Reading;
  readonly value: string | null;
}

const QUANTITIES: Readonly<Record<string, QuantityName>> = {
  ohms: 'resistance',
  volts: 'voltage',
  amps: 'current',
  humidity: 'relative-humidity',
};
const LONGEST_PART = 3;

/** "defrost-sensor resistance 5.4k", "bimetal OL", "heater 12,6 ohm": part, quantity where it is named, value. */
export function typed(knowledge: Knowledge, words: readonly string[]): Typed {
  const { part, taken } = partOf(knowledge, words);
  const rest = words.slice(taken);
  const { quantities } = knowledge.parts.get(part) ?? { quantities: [] };
  const named = rest[0] === undefined ? undefined : (QUANTITIES[rest[0]] ?? rest[0]);
  const quantity = quantities.find((q) => q === named);
  const value = (quantity ? rest.slice(1) : rest).join(' ') || null;
  const meant = quantity ?? quantityMeant(knowledge, quantities, value);
  const step = meant && knowledge.readings.get(`${part}.${meant}`);
  return step
    ? { step, value }
    : refuse(
        'reading.quantity',
        `${part} is measured in: ${quantities.join(', ')}; name one of them, or give the value its unit`,
      );
}

function partOf(knowledge: Knowledge, words: readonly string[]): { part: string; taken: number } {
  const [first = ''] = words;
  if (knowledge.parts.has(first)) return { part: first, taken: 1 };
  const matcher = matcherOf(knowledge);
  for (let taken = Math.min(LONGEST_PART, words.length); taken > 0; taken -= 1) {
    const text = read(words.slice(0, taken).join(' '));
    for (const { owner, from, to } of matcher.find(text))
      if (owner.kind === 'part' && from === 0 && to === text.tokens.length - 1) return { part: owner.part, taken };
  }
  return refuse('reading.part', `no part is called "${first}"; known: ${[...knowledge.parts.keys()].join(', ')}`);
}

/** The quantity that the value itself tells; without a value the first that the part has. */
function quantityMeant(
  knowledge: Knowledge,
  quantities: readonly QuantityName[],
  value: string | null,
): QuantityName | undefined {
  const [first, second] = quantities;
  if (value === null || second === undefined) return first;
  const found = foundIn(withOhms(value, quantities.includes('resistance')), knowledge);
  const kind = found?.kind === 'length' ? 'thickness' : found?.kind;
  return quantities.find((q) => q === kind);
}

/** A lone M is mega where ohms are measured, and metres nowhere else. */
const withOhms = (text: string, ohms: boolean): string => (ohms && /\d\s*m$/i.test(text.trim()) ? `${text}ohm` : text);

/** What a whole text measures, or what a meter shows in place of a number; undefined where it is something else. */
function foundIn(text: string, knowledge: Knowledge | null = null): Found | undefined {
  const said = text.trim();
  // "0 A": behind a number alone it is a unit, in a sentence it may be an article
  const close = said.replace(/(\d)\s+(?=[^\d\s]+$)/, '$1');
  for (const candidate of [said, close, `reads ${said}`]) {
    const [found, another] = measuredBy(candidate, knowledge);
    if (found && !another && found.end === candidate.length && (found.start === 0 || typeof found.value === 'string'))
      return found;
  }
  return undefined;
}

/** With a knowledge folder also what the meter shows in words. */
function measuredBy(text: string, knowledge: Knowledge | null): readonly Found[] {
  const found = quantitiesIn(text);
  if (!knowledge) return found;
  const words = read(text);
  return withShown(found, words, matcherOf(knowledge).find(words), null);
}

/** A typed value in the unit it was typed in. `bare`: the unit of a number without one, where that is safe to take. */
export function valueOf(
  text: string,
  quantity: QuantityName,
  field: string,
  bare?: Unit,
  knowledge: Knowledge | null = null,
): Pick<ReadingIn, 'value' | 'unit'> {
  const found =
    foundIn(withOhms(text, quantity === 'resistance'), knowledge) ??
    refuse(`${field}.value`, `"${text}" is no value; expected a number with its unit, OL, closed or open`);
  const { value, kind, unit } = found;
  if (value === 'open' && quantity === 'resistance') return { value: 'OL' };
  if (typeof value === 'string') return { value };
  if (kind === 'bare') return bare === undefined ? { value } : { value, unit: bare };
  if (unit === 'deg') return refuse(`${field}.unit`, `"${text}" needs its scale: C or F`);
  if (unit === null || unit === 'W' || unit === 'h')
    return refuse(`${field}.unit`, `"${text}" does not measure ${quantity}`);
  return { value, unit };
}

const ROOM = /^(?:at )?(?:room(?: temp(?:erature)?)?|ambient)$/i;
const ICE = /^(?:in )?(?:ice|slush|ice[- ](?:water|bath))$/i;
/** Stirred ice and water, by definition of the scale. */
const ICE_C = 0;

/** "73F", "-18 C", "room", "ice water". `roomC`: what is taken for a room that nobody measured. */
export function temperatureOf(
  text: string,
  field: string,
  roomC: number,
): { readonly atC: number; readonly atAssumed: boolean; readonly scale: 'degC' | 'degF' | null } {
  if (ROOM.test(text.trim())) return { atC: roomC, atAssumed: true, scale: null };
  if (ICE.test(text.trim())) return { atC: ICE_C, atAssumed: false, scale: null };
  const found = foundIn(text);
  const unit = found?.unit;
  if (typeof found?.value !== 'number' || found.kind !== 'temperature' || unit === 'deg' || !unit)
    return refuse(field, `"${text}" is no temperature; expected degrees with C or F, room, or ice water`);
  const si = toSi(found.value, unit as Unit);
  if (si.kind === 'impossible') return refuse(field, `"${text}" is below absolute zero`);
  return {
    atC: Math.round(si.value * 100) / 100,
    atAssumed: false,
    scale: unit === 'degC' || unit === 'degF' ? unit : null,
  };
}

/** "5400@73F": what the tech sheet says, in ohms, volts or amperes where it has no unit. */
export function sheetOf(text: string, { quantity }: Reading, roomC: number): NonNullable<ReadingIn['sheet']> {
  const [number = '', degrees] = text.split(/\s*@\s*|\s+at\s+/i);
  const plain: Readonly<Partial<Record<QuantityName, Unit>>> = { resistance: 'ohm', voltage: 'V', current: 'A' };
  const { value, unit } = valueOf(number, quantity, 'reading.sheet', plain[quantity]);
  if (typeof value !== 'number' || !unit) return refuse('reading.sheet.value', `"${number}" is no number`);
  const at = degrees === undefined ? {} : { atC: temperatureOf(degrees, 'reading.sheet.atC', roomC).atC };
  return { value, unit, ...at };
}

const TWO_NUMBERS = /^[a-z]?\s*(-?\d+(?:\.\d+)?)\s*[-/ ]\s*(\d+(?:\.\d+)?)\s*\u00b0?\s*([cf])?$/i;

/** Two numbers as they are stamped on a thermostat: "60-40", "L55-30F". */
export function markOf(text: string): Mark {
  const [, first, second, scale] = TWO_NUMBERS.exec(text.trim()) ?? [];
  if (first === undefined || second === undefined)
    return refuse(
      'reading.mark',
      `"${text}" is no mark; expected two numbers such as 60-40, with C or F where it says`,
    );
  const unit = scale === undefined ? null : scale.toLowerCase() === 'c' ? 'degC' : 'degF';
  return { mark: [Number(first), Number(second)], unit };
}

/** "450W/120V", "60/40F" (opens at 60 F, closes 40 F lower), "230V". */
export function ratingOf(text: string, { judge }: Reading): NonNullable<ReadingIn['rating']> {
  if (judge === 'thermostat-continuity') return openingOf(text);
  const found = quantitiesIn(text.replaceAll(/[/@]/g, ' '));
  const one = (kind: Found['kind']): number | undefined => {
    const value = found.find((f) => f.kind === kind)?.value;
    return typeof value === 'number' ? value : undefined;
  };
  const [power, voltage] = [one('power'), one('voltage')];
  if (power !== undefined && voltage !== undefined) return { power, voltage };
  if (power === undefined && voltage !== undefined) return { voltage };
  return refuse('reading.rating', `"${text}" is no rating; expected watts and volts such as 450W/120V, or volts alone`);
}

function openingOf(text: string): { opensC: number; differentialC: number } {
  const { mark, unit } = markOf(text);
  const [opens, differential] = mark;
  if (unit === null)
    return refuse('reading.rating', `"${text}" needs its scale, C or F; a mark without one goes after --mark`);
  const si = toSi(opens, unit);
  if (si.kind === 'impossible') return refuse('reading.rating.opensC', `"${text}" opens below absolute zero`);
  return {
    opensC: si.value,
    differentialC: unit === 'degF' ? kelvinsFromFahrenheitDegrees(differential) : differential,
  };
}

/** "5", "5 min", "1 h": minutes. */
export function minutesOf(text: string): number {
  const found = foundIn(/\d$/.test(text) ? `${text} min` : text);
  if (found?.kind !== 'duration' || typeof found.value !== 'number')
    return refuse('reading.settledMinutes', `"${text}" is no time; expected minutes`);
  return found.value * 60;
}

/** "0.3", "0.3 ohm": what the meter's leads read, in ohm. */
export function leadsOf(text: string): number {
  const { value, unit } = valueOf(text, 'resistance', 'leads', 'ohm');
  if (typeof value !== 'number' || unit === undefined || quantityOf(unit) !== 'resistance')
    return refuse('leads', `"${text}" is no resistance`);
  const si = toSi(value, unit);
  return si.kind === 'impossible' ? refuse('leads', `"${text}" is impossible`) : si.value;
}
