// What a front end states, made into a measurement in SI, or refused with the name of the field that is wrong. Whether
// the value is good is not asked here.

import type { Mark, Measurement } from '../case/events.js';
import type { Knowledge, Reading } from '../knowledge/facts.js';
import type { ReadingIn, Unit } from '../message/incoming.js';
import { readMark } from '../physics/bimetal.js';
import { ABSOLUTE_ZERO_C, quantityOf, toSi, unitsOf } from '../physics/units.js';

export type Accepted =
  | { readonly ok: true; readonly measurement: Measurement }
  /** the field as the JSON line names it: `reading.sheet.unit` */
  | { readonly ok: false; readonly field: string; readonly message: string };

type Refused = Extract<Accepted, { ok: false }>;

const refuse = (field: string, message: string): Refused => ({ ok: false, field, message });

/** What is stamped on a thermostat, as it stands there. */

/**
 * Checks a reading and converts it to SI (ohm, V, A, degC, m, %). A negative voltage or current is kept as its
 * magnitude: the probes were the other way round.
 * @param atAssumed the temperature came from words such as "room temperature"
 * @param mark of a thermostat, where its numbers are known but not what they stand for
 */
export function accept(knowledge: Knowledge, stated: ReadingIn, atAssumed = false, mark: Mark | null = null): Accepted {
  const part = knowledge.parts.get(stated.part);
  if (!part)
    return refuse(
      'reading.part',
      `no part is called "${stated.part}"; known: ${[...knowledge.parts.keys()].join(', ')}`,
    );
  const reading = knowledge.readings.get(`${stated.part}.${stated.quantity}`);
  if (!reading)
    return refuse(
      'reading.quantity',
      `${stated.part} has no ${stated.quantity}; it is measured in: ${part.quantities.join(', ')}`,
    );
  const value = valueOf(stated);
  if ('ok' in value) return value;
  const { atC = null, settledMinutes = null } = stated;
  if (atC !== null && !isTemperature(atC)) return refuse('reading.atC', BELOW_ZERO);
  if (settledMinutes !== null && !(settledMinutes >= 0 && settledMinutes < Infinity))
    return refuse('reading.settledMinutes', 'expected minutes, 0 or more');
  const sheet = sheetOf(stated, reading);
  if (sheet && 'ok' in sheet) return sheet;
  const rating = mark ? markOf(stated, reading, mark) : ratingOf(stated, reading);
  if (rating && 'ok' in rating) return rating;
  const curve = stated.curve ?? null;
  if (curve !== null && reading.judge !== 'sensor-resistance')
    return refuse('reading.curve', `a curve belongs to a sensor's resistance, not to ${reading.id}`);
  if (curve !== null && !knowledge.curves.has(curve))
    return refuse('reading.curve', `no curve is called "${curve}"; known: ${[...knowledge.curves.keys()].join(', ')}`);
  const { quantity } = stated;
  const assumed = atC !== null && atAssumed;
  return {
    ok: true,
    measurement: { part: part.id, quantity, ...value, atC, atAssumed: assumed, settledMinutes, sheet, rating, curve },
  };
}

const BELOW_ZERO = `expected degrees Celsius above absolute zero (${ABSOLUTE_ZERO_C})`;
const isTemperature = (atC: number): boolean => atC >= ABSOLUTE_ZERO_C && atC < Infinity;

type Quantity = Exclude<Measurement['quantity'], 'continuity'>;

/** The unit that a quantity is kept in. */
const siUnit = (quantity: Quantity): Unit => {
  const [unit] = unitsOf(quantity);
  if (!unit) throw new Error(`${quantity} has no unit`);
  return unit;
};

function valueOf({ value, unit, quantity }: ReadingIn): Pick<Measurement, 'value' | 'unit'> | Refused {
  if (quantity === 'continuity') {
    if (typeof value === 'number')
      return refuse('reading.value', 'continuity is closed, open or OL; ohms belong to resistance');
    return unit === undefined ? { value, unit: null } : refuse('reading.unit', 'continuity has no unit: leave it out');
  }
  if (value === 'closed' || value === 'open')
    return refuse('reading.value', `${value} belongs to continuity, not to ${quantity}`);
  const wrong = wrongUnit(unit, quantity, 'reading.unit');
  if (value === 'OL') {
    if (quantity !== 'resistance')
      return refuse('reading.value', `OL belongs to resistance and continuity, not to ${quantity}`);
    return unit !== undefined && wrong ? wrong : { value, unit: siUnit(quantity) };
  }
  if (wrong) return wrong;
  const si = inSi(value, unit as Unit);
  return typeof si === 'number'
    ? { value: magnitude(si, quantity), unit: siUnit(quantity) }
    : refuse('reading.value', si.message);
}

const magnitude = (value: number, quantity: Quantity): number =>
  quantity === 'voltage' || quantity === 'current' ? Math.abs(value) : value;

function wrongUnit(unit: Unit | undefined, quantity: Quantity, field: string): Refused | null {
  const allowed = unitsOf(quantity).join(', ');
  if (unit === undefined) return refuse(field, `${quantity} needs its unit: ${allowed}`);
  return quantityOf(unit) === quantity
    ? null
    : refuse(field, `${unit} does not measure ${quantity}; allowed: ${allowed}`);
}

/** What no meter in a kitchen shows, in any SI unit. */
const LARGEST = 1e12;

function inSi(value: number, unit: Unit): number | { readonly message: string } {
  if (!Number.isFinite(value)) return { message: 'expected a finite number' };
  const si = toSi(value, unit);
  if (si.kind === 'impossible')
    return { message: `${value} ${unit} is impossible: expected ${limits(si.lowest, si.highest)}` };
  // 0.0284 kohm is 28.4 ohm, without the last digits of binary arithmetic.
  return Math.abs(si.value) <= LARGEST
    ? Number(si.value.toPrecision(12))
    : { message: `${value} ${unit} is larger than any meter shows` };
}

const limits = (lowest: number, highest: number): string =>
  highest === Infinity ? `${lowest} or more` : `${lowest} to ${highest}`;

function sheetOf({ sheet, quantity }: ReadingIn, reading: Reading): Measurement['sheet'] | Refused {
  if (!sheet) return null;
  if (quantity !== 'resistance' && quantity !== 'current' && quantity !== 'voltage')
    return refuse('reading.sheet', `a sheet's value is for resistance, current or voltage, not for ${quantity}`);
  const wrong = wrongUnit(sheet.unit, quantity, 'reading.sheet.unit');
  if (wrong) return wrong;
  const value = inSi(sheet.value, sheet.unit);
  if (typeof value !== 'number') return refuse('reading.sheet.value', value.message);
  const [low, high] = SHEETS[quantity];
  if (!(value >= low && value <= high))
    return refuse('reading.sheet.value', `expected ${low} to ${high} ${siUnit(quantity)}`);
  const { atC = null } = sheet;
  if (atC !== null && !isTemperature(atC)) return refuse('reading.sheet.atC', BELOW_ZERO);
  if (atC === null && reading.judge === 'sensor-resistance')
    return refuse('reading.sheet.atC', "a sensor's sheet value needs the temperature that it stands for");
  return { value, unit: siUnit(quantity), atC };
}

/** What a sheet of this trade may print, ohm, A and V. */
const SHEETS = { resistance: [0.1, 1e8], current: [1e-3, 100], voltage: [0.1, 1000] } as const;

/** Which rating a judge can use, with the limits of what a plate in this trade may say. */
const RATINGS: Readonly<Record<string, Readonly<Record<string, readonly [number, number]>>>> = {
  'heater-resistance': { power: [1, 10_000], voltage: [5, 1000] },
  'heater-continuity': { power: [1, 10_000], voltage: [5, 1000] },
  'heater-current': { power: [1, 10_000], voltage: [5, 1000] },
  'thermostat-continuity': { opensC: [-60, 300], differentialC: [0.1, 200] },
  'supply-voltage': { voltage: [5, 1000] },
  'circuit-voltage': { voltage: [5, 1000] },
};

function ratingOf({ rating }: ReadingIn, reading: Reading): Measurement['rating'] | Refused {
  if (!rating) return null;
  const fields = RATINGS[reading.judge];
  if (!fields) return refuse('reading.rating', `${reading.id} has no rating`);
  const stated: Readonly<Record<string, number>> = { ...rating };
  const names = Object.keys(fields);
  if (Object.keys(stated).length !== names.length || !names.every((name) => name in stated))
    return refuse('reading.rating', `the rating for ${reading.id} has: ${names.join(', ')}`);
  for (const [name, [low, high]] of Object.entries(fields)) {
    const value = stated[name] ?? NaN;
    if (!(value >= low && value <= high)) return refuse(`reading.rating.${name}`, `expected ${low} to ${high}`);
  }
  return rating;
}

/** Refused where no thermostat could have such a mark. */
function markOf({ rating }: ReadingIn, reading: Reading, mark: Mark): Mark | Refused {
  if (reading.judge !== 'thermostat-continuity')
    return refuse('reading.mark', `a mark belongs to a thermostat, not to ${reading.id}`);
  if (rating) return refuse('reading.mark', 'give the mark or the rating, not both');
  const [opens, differential] = [RATINGS[reading.judge]?.['opensC'], RATINGS[reading.judge]?.['differentialC']];
  const possible = readMark(...mark.mark, mark.unit ?? undefined).some(
    ({ opensC, differentialK }) => isBetween(opensC, opens) && isBetween(differentialK, differential),
  );
  return possible ? mark : refuse('reading.mark', `no thermostat is marked ${mark.mark.join('-')}`);
}

const isBetween = (value: number, range: readonly [number, number] | undefined): boolean =>
  range !== undefined && value >= range[0] && value <= range[1];
