// Physics holds the plain formulas of the trade: units, sensors, heaters, supply, moist air, frost and its melting.
// It computes what should be measured and what a reading means in SI; it never judges a reading, never chooses a
// number that a technician would edit, and never writes a sentence.

import { positive } from './domain.js';

/** What a reading measures; the vocabulary's identifiers. */
export type Quantity =
  'continuity' | 'resistance' | 'voltage' | 'current' | 'temperature' | 'relative-humidity' | 'thickness';

export type UnitSystem = 'us' | 'si';

/** 0 K in degC, by definition (SI Brochure, 9th edition, section 2.3.1). */
export const ABSOLUTE_ZERO_C = -273.15;

// SI value = (value - zero) * factor. Inch and Fahrenheit are exact by definition (NIST SP 811, appendix B).
const UNITS = {
  ohm: { quantity: 'resistance', factor: 1, zero: 0 },
  kohm: { quantity: 'resistance', factor: 1e3, zero: 0 },
  Mohm: { quantity: 'resistance', factor: 1e6, zero: 0 },
  V: { quantity: 'voltage', factor: 1, zero: 0 },
  mV: { quantity: 'voltage', factor: 1e-3, zero: 0 },
  A: { quantity: 'current', factor: 1, zero: 0 },
  mA: { quantity: 'current', factor: 1e-3, zero: 0 },
  degC: { quantity: 'temperature', factor: 1, zero: 0 },
  degF: { quantity: 'temperature', factor: 5 / 9, zero: 32 },
  K: { quantity: 'temperature', factor: 1, zero: -ABSOLUTE_ZERO_C },
  '%': { quantity: 'relative-humidity', factor: 1, zero: 0 },
  m: { quantity: 'thickness', factor: 1, zero: 0 },
  cm: { quantity: 'thickness', factor: 1e-2, zero: 0 },
  mm: { quantity: 'thickness', factor: 1e-3, zero: 0 },
  in: { quantity: 'thickness', factor: 0.0254, zero: 0 },
} as const satisfies Record<string, { quantity: Quantity; factor: number; zero: number }>;

export type Unit = keyof typeof UNITS;

// What nature allows, in the SI unit. Volts and amperes may be negative: probes the other way round on DC.
const POSSIBLE: Record<Exclude<Quantity, 'continuity'>, { lowest: number; highest: number }> = {
  resistance: { lowest: 0, highest: Infinity },
  voltage: { lowest: -Infinity, highest: Infinity },
  current: { lowest: -Infinity, highest: Infinity },
  temperature: { lowest: ABSOLUTE_ZERO_C, highest: Infinity },
  'relative-humidity': { lowest: 0, highest: 100 },
  thickness: { lowest: 0, highest: Infinity },
};

/** The quantity that a unit measures. */
export function quantityOf(unit: Unit): Quantity {
  return UNITS[unit].quantity;
}

/** The units that a quantity may be given in, the SI unit first; none for continuity. */
export function unitsOf(quantity: Quantity): Unit[] {
  return (Object.keys(UNITS) as Unit[]).filter((unit) => UNITS[unit].quantity === quantity);
}

/** A value in ohm, V, A, degC, % or m; or the limits, in the unit given, which nature sets and the value breaks. */
export type SiValue =
  | { kind: 'possible'; quantity: Quantity; value: number }
  | { kind: 'impossible'; quantity: Quantity; lowest: number; highest: number };

/**
 * Converts what a person gave to the SI unit of its quantity (temperature degC, relative humidity %).
 * Below absolute zero, a negative resistance or thickness, or a humidity outside 0 to 100 % is `impossible`.
 * @throws RangeError when the value is not finite (over-limit is a word, never a number)
 */
export function toSi(value: number, unit: Unit): SiValue {
  if (!Number.isFinite(value)) throw new RangeError(`value is ${value}; expected a finite number`);
  const { quantity, factor, zero } = UNITS[unit];
  const { lowest, highest } = POSSIBLE[quantity];
  const inSi = (value - zero) * factor;
  const rounding = 1e-9;
  if (inSi < lowest - rounding || inSi > highest + rounding) {
    const given = (limit: number): number => Number((limit / factor + zero).toFixed(2));
    return { kind: 'impossible', quantity, lowest: given(lowest), highest: given(highest) };
  }
  return { kind: 'possible', quantity, value: Math.min(Math.max(inSi, lowest), highest) };
}

/**
 * Celsius to kelvin.
 * @throws RangeError at or below absolute zero, or when not finite
 */
export function kelvins(temperatureC: number): number {
  return positive('temperature in kelvin', temperatureC - ABSOLUTE_ZERO_C);
}

/** A difference of temperatures in Fahrenheit degrees, in kelvin: the 32 of the scale plays no part. */
export function kelvinsFromFahrenheitDegrees(degrees: number): number {
  return degrees * UNITS.degF.factor;
}

// What a person reads, tried from the left: the first unit in which the rounded value is at least 1 (else the last).
const SHOWN: Record<Exclude<Quantity, 'continuity'>, Record<UnitSystem, readonly Unit[]>> = {
  resistance: { us: ['Mohm', 'kohm', 'ohm'], si: ['Mohm', 'kohm', 'ohm'] },
  voltage: { us: ['V', 'mV'], si: ['V', 'mV'] },
  current: { us: ['A', 'mA'], si: ['A', 'mA'] },
  temperature: { us: ['degF'], si: ['degC'] },
  'relative-humidity': { us: ['%'], si: ['%'] },
  thickness: { us: ['in'], si: ['mm'] },
};

// As fine as the person's instrument: whole degF and %, tenths of degC, two digits of frost, three of a meter.
function rounded(value: number, unit: Unit): number {
  if (unit === 'degF' || unit === '%') return Math.round(value) + 0;
  if (unit === 'degC') return Math.round(value * 10) / 10 + 0;
  return Number(value.toPrecision(quantityOf(unit) === 'thickness' ? 2 : 3));
}

/**
 * Converts an SI value (ohm, V, A, degC, %, m) to the unit a person uses, rounded for reading.
 * @throws RangeError when the value is not finite
 */
export function toPerson(
  siValue: number,
  quantity: Exclude<Quantity, 'continuity'>,
  system: UnitSystem,
): { value: number; unit: Unit } {
  if (!Number.isFinite(siValue)) throw new RangeError(`siValue is ${siValue}; expected a finite number`);
  const shown = SHOWN[quantity][system].map((unit) => {
    const { factor, zero } = UNITS[unit];
    return { value: rounded(siValue / factor + zero, unit), unit };
  });
  const nothing = siValue === 0 && UNITS[shown[0]!.unit].factor === 1 ? shown[0] : undefined;
  return nothing ?? shown.find(({ value }) => Math.abs(value) >= 1) ?? shown[shown.length - 1]!;
}
