// The defrost thermostat, a snap disc: closed when cold, open when warm. Between its closing and its opening
// temperature it keeps whichever state it had, so there its contact proves nothing.

import { positive, within } from './domain.js';
import { ABSOLUTE_ZERO_C, kelvinsFromFahrenheitDegrees, toSi } from './units.js';

/** Opens at `opensC` on the way up, closes `differentialK` lower on the way down. */
export interface BimetalRating {
  readonly opensC: number;
  readonly differentialK: number;
}

/** How far each switching temperature may be from its rating, and the tested temperature from the true one, K. */
export interface BimetalUncertainty {
  readonly opensK: number;
  readonly closesK: number;
  readonly testedAtK: number;
}

export type ExpectedContact = 'must-be-closed' | 'must-be-open' | 'either';

/**
 * What a good thermostat's contact has to be at the temperature it was tested at, degC.
 * @throws RangeError when the differential is not above 0 or a tolerance is negative
 */
export function expectedContact(
  rating: BimetalRating,
  testedAtC: number,
  uncertainty: BimetalUncertainty,
): ExpectedContact {
  const differentialK = positive('differentialK', rating.differentialK);
  const testedAtK = within('testedAtK', uncertainty.testedAtK, 0, 1000);
  const coldestC = within('testedAtC', testedAtC, ABSOLUTE_ZERO_C, 1000) - testedAtK;
  const warmestC = testedAtC + testedAtK;
  const opensC = within('opensC', rating.opensC, ABSOLUTE_ZERO_C, 1000);
  const surelyClosedC = opensC - differentialK - within('closesK', uncertainty.closesK, 0, 1000);
  const surelyOpenC = opensC + within('opensK', uncertainty.opensK, 0, 1000);
  if (warmestC <= surelyClosedC) return 'must-be-closed';
  return coldestC >= surelyOpenC ? 'must-be-open' : 'either';
}

/** One way to read two stamped numbers: the second as the differential, or as the temperature it closes again at. */
export interface MarkReading extends BimetalRating {
  readonly unit: 'degC' | 'degF';
  readonly second: 'differential' | 'reset';
}

/**
 * Every physically possible reading of a mark such as "60-40" (common practice, no source: makers stamp either unit,
 * and either the differential or the reset temperature). As a reset pair the warmer number is the opening one.
 * Dropped: no difference between opening and closing, and closing below absolute zero.
 * @param unit where the mark has one: it is taken as marked
 * @throws RangeError when a number is not finite
 */
export function readMark(first: number, second: number, unit?: 'degC' | 'degF'): MarkReading[] {
  const ways = [
    { second: 'differential', opens: first, difference: second },
    { second: 'reset', opens: Math.max(first, second), difference: Math.abs(first - second) },
  ] as const;
  const scales = unit ? [unit] : (['degF', 'degC'] as const);
  return scales.flatMap((scale) =>
    ways.flatMap((way): MarkReading[] => {
      const opens = toSi(way.opens, scale);
      const differentialK = scale === 'degF' ? kelvinsFromFahrenheitDegrees(way.difference) : way.difference;
      if (opens.kind === 'impossible') return [];
      if (differentialK <= 0 || opens.value - differentialK <= ABSOLUTE_ZERO_C) return [];
      return [{ opensC: opens.value, differentialK, unit: scale, second: way.second }];
    }),
  );
}

/**
 * The contact that every one of these ratings asks for at the tested temperature; `depends-on-mark` where they differ
 * or there is none: then only a better look at the mark, or a colder test, can tell.
 */
export function agreedContact(
  ratings: readonly BimetalRating[],
  testedAtC: number,
  uncertainty: BimetalUncertainty,
): ExpectedContact | 'depends-on-mark' {
  const [first, ...others] = new Set(ratings.map((rating) => expectedContact(rating, testedAtC, uncertainty)));
  return first === undefined || others.length > 0 ? 'depends-on-mark' : first;
}
