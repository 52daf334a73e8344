// The three-term equation of an NTC sensor: 1/T = a + b ln R + c (ln R)^3, T in kelvin, R in ohm.
// Source: Steinhart & Hart, Deep-Sea Research 15 (1968) 497-503.

import { positive, within } from './domain.js';
import { ABSOLUTE_ZERO_C, kelvins } from './units.js';

/** Coefficients in 1/K. `c` may be negative: some published curves need it. */
export interface SteinhartHart {
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

/** One known pair of a sensor: its resistance at a temperature. */
export interface SensorPoint {
  readonly temperatureC: number;
  readonly resistanceOhm: number;
}

/** ln of a resistance. @throws RangeError when it is not above zero: a shorted sensor has no temperature */
function logOhm(resistanceOhm: number): number {
  return Math.log(positive('resistanceOhm', resistanceOhm));
}

/**
 * Fits the three coefficients to three points, in any order. Over a span up to 100 K with the middle point central the
 * fit follows a published curve to about 0.02 K (Electronic Design, article 21773682); through -40, 0 and +40 degC the
 * published curves A, C and F within 0.013 K, curve D within 0.023 K.
 * @throws RangeError when the resistance does not fall from each point to the next warmer one
 */
export function fitThreePoints(points: readonly [SensorPoint, SensorPoint, SensorPoint]): SteinhartHart {
  const [p1, p2, p3] = fallingPairs(points) as [Pair, Pair, Pair];
  const slope2 = (p2.y - p1.y) / (p2.x - p1.x);
  const slope3 = (p3.y - p1.y) / (p3.x - p1.x);
  const c = (slope3 - slope2) / (p3.x - p2.x) / (p1.x + p2.x + p3.x);
  const b = slope2 - c * (p1.x ** 2 + p1.x * p2.x + p2.x ** 2);
  return { a: p1.y - p1.x * (b + c * p1.x ** 2), b, c };
}

/**
 * Beta in kelvin between two points: ln(R1/R2) / (1/T1 - 1/T2). It compares how steep two curves are. It converts no
 * reading: with a data sheet's B25/85 alone a freezer reads 1.7 K too warm at -20 degC and 3.0 K at -40 degC (curve A).
 * @throws RangeError when the warmer point does not have the lower resistance
 */
export function betaBetweenK(points: readonly [SensorPoint, SensorPoint]): number {
  const [p1, p2] = fallingPairs(points) as [Pair, Pair];
  return (p1.x - p2.x) / (p1.y - p2.y);
}

/**
 * Temperature in degC of a resistance in ohm. The caller keeps to the span the coefficients were made for.
 * @throws RangeError when the resistance is not positive, or so far off that the equation has no temperature
 */
export function temperatureBySteinhartHartC(curve: SteinhartHart, resistanceOhm: number): number {
  const x = logOhm(resistanceOhm);
  return 1 / positive('1/T', curve.a + x * (curve.b + curve.c * x * x)) + ABSOLUTE_ZERO_C;
}

/**
 * Resistance in ohm at a temperature in degC: the same equation solved for ln R by Newton's method, which nears the
 * root from one side for either sign of `c`.
 * @throws RangeError where the coefficients do not describe a falling curve
 */
export function resistanceBySteinhartHartOhm(curve: SteinhartHart, temperatureC: number): number {
  const { a, b, c } = curve;
  const y = 1 / kelvins(temperatureC);
  let x = (y - a) / positive('b', b);
  for (let step = 0; step < 50; step += 1) {
    const slope = positive('slope of 1/T against ln R', b + 3 * c * x * x);
    const change = (y - a - x * (b + c * x * x)) / slope;
    x += change;
    if (Math.abs(change) < 1e-13 * Math.max(1, Math.abs(x))) break;
  }
  return Math.exp(within('ln R', x, -50, 50));
}

interface Pair {
  readonly x: number; // ln R
  readonly y: number; // 1/T
}

function fallingPairs(points: readonly SensorPoint[]): Pair[] {
  const pairs = points
    .map((point) => ({ x: logOhm(point.resistanceOhm), y: 1 / kelvins(point.temperatureC) }))
    .sort((one, other) => other.y - one.y);
  pairs.slice(1).forEach((pair, i) => {
    positive('fall of ln R from one point to the next warmer', pairs[i]!.x - pair.x);
    positive('step in 1/T from one point to the next warmer', pairs[i]!.y - pair.y);
  });
  return pairs;
}
