// The four-term ratio form in which sensor makers publish a material: one shape for every R25, each direction with its
// own coefficients.
// Source of the form: Amphenol Thermometrics, Sensor Temperature Resistance Curves, Rev C (Nov 2014); Vishay 29049.

import { positive } from './domain.js';
import { ABSOLUTE_ZERO_C, kelvins } from './units.js';

type FourTerms = readonly [number, number, number, number];

export interface RatioForm {
  /** ln(R/R25) = A + B/T + C/T^2 + D/T^3, T in kelvin. */
  readonly toRatio: FourTerms;
  /** 1/T = a + b x + c x^2 + d x^3, x = ln(R/R25). */
  readonly fromRatio: FourTerms;
  readonly r25Ohm: number;
}

function polynomial([c0, c1, c2, c3]: FourTerms, x: number): number {
  return c0 + x * (c1 + x * (c2 + x * c3));
}

/**
 * Resistance in ohm at a temperature in degC. The two directions agree to 0.012 K over -40 to +40 degC.
 * @throws RangeError at or below absolute zero, or when R25 is not positive
 */
export function resistanceByRatioOhm(form: RatioForm, temperatureC: number): number {
  return positive('r25Ohm', form.r25Ohm) * Math.exp(polynomial(form.toRatio, 1 / kelvins(temperatureC)));
}

/**
 * Temperature in degC of a resistance in ohm.
 * @throws RangeError when a resistance is not positive, or so far off that the form has no temperature
 */
export function temperatureByRatioC(form: RatioForm, resistanceOhm: number): number {
  const x = Math.log(positive('resistanceOhm', resistanceOhm) / positive('r25Ohm', form.r25Ohm));
  return 1 / positive('1/T', polynomial(form.fromRatio, x)) + ABSOLUTE_ZERO_C;
}
