// What one or two values from a tech sheet say about the resistance at another temperature. A sheet that prints
// "5,400 ohm at 73 F" does not tell the curve, so the answer is a band: all the curves it may be.

import { positive } from './domain.js';
import { betaBetweenK, type SensorPoint } from './steinhart-hart.js';
import { resistanceAt, type OutsideSpan, type ThermistorCurve } from './thermistor.js';

/** The curves that a sensor may plausibly have: published shapes, each made as flat or as steep as Beta allows. */
export interface PlausibleShapes {
  readonly references: readonly ThermistorCurve[];
  /** Beta from flattest to steepest, K, between the two temperatures of `betaBetweenC`; 3000 to 4500 is common. */
  readonly betaLowK: number;
  readonly betaHighK: number;
  readonly betaBetweenC: readonly [number, number];
}

export type Spread = { readonly kind: 'found'; readonly lowOhm: number; readonly highOhm: number } | OutsideSpan;

/**
 * The lowest and highest resistance in ohm at a temperature in degC of all plausible curves through the sheet's point
 * or two points. Each reference curve's ln R is stretched and shifted so that it passes through the point with the
 * lowest and with the highest Beta, or through both points; so the bend away from a straight Beta line is no stronger
 * and no weaker than in the references. Own method, checked by its holding published curves it was not given.
 * Spread for one point at 25 degC: a factor 1.6 at 0 degC, 2.6 at -20 degC; none at the point itself.
 * @returns outside-span where any reference does not reach
 * @throws RangeError without a reference, when Beta limits are not positive and rising, or when two points do not fall
 */
export function spreadThrough(
  points: readonly [SensorPoint] | readonly [SensorPoint, SensorPoint],
  temperatureC: number,
  shapes: PlausibleShapes,
): Spread {
  const [point, second] = points;
  positive('resistanceOhm', point.resistanceOhm);
  positive('number of reference curves', shapes.references.length);
  positive('betaHighK - betaLowK', shapes.betaHighK - positive('betaLowK', shapes.betaLowK));
  const pair: readonly [number, number] = second ? [point.temperatureC, second.temperatureC] : shapes.betaBetweenC;
  const betas = second ? [betaBetweenK([point, second])] : [shapes.betaLowK, shapes.betaHighK];
  const ohms: number[] = [];
  for (const reference of shapes.references) {
    const found = [temperatureC, point.temperatureC, ...pair].map((celsius) => resistanceAt(reference, celsius));
    const outside = found.find((each) => each.kind === 'outside-span');
    if (outside) return outside;
    const [there, here, first, last] = found.map((each) => (each.kind === 'found' ? each.resistanceOhm : NaN));
    const ownBetaK = betaBetweenK([
      { temperatureC: pair[0], resistanceOhm: first! },
      { temperatureC: pair[1], resistanceOhm: last! },
    ]);
    ohms.push(...betas.map((betaK) => point.resistanceOhm * (there! / here!) ** (betaK / ownBetaK)));
  }
  return { kind: 'found', lowOhm: Math.min(...ohms), highOhm: Math.max(...ohms) };
}
