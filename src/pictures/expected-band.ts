/** What a sensor chart shows as expected: the ohms that a good sensor may have at each temperature. */

/** In ohm. */
export interface OhmRange {
  readonly lowOhm: number;
  readonly highOhm: number;
}

/** The range at a temperature in degC; undefined where it is not known. Known over one span without gaps. */
export type RangeAt = (temperatureC: number) => OhmRange | undefined;

export interface ExpectedBand {
  readonly lowC: number;
  readonly highC: number;
  readonly at: RangeAt;
}

/** Wider than any sensor's tolerance: such a range holds several curves, and none of them is drawn. */
const WIDEST_TOLERANCE = 1.2;

/** The curve within a range, in ohm: the middle of its ratio; undefined where the range is of several curves. */
export function curveWithin({ lowOhm, highOhm }: OhmRange): number | undefined {
  return highOhm / lowOhm > WIDEST_TOLERANCE ? undefined : Math.sqrt(lowOhm * highOhm);
}

/**
 * The range with the span over which it is known, looked for between -80 and 120 degC, to whole kelvins.
 * @throws RangeError where it is known nowhere there
 */
export function bandOf(at: RangeAt): ExpectedBand {
  const known = Array.from({ length: 201 }, (_, i) => i - 80).filter((celsius) => at(celsius) !== undefined);
  const [lowC, highC] = [known[0], known[known.length - 1]];
  if (lowC === undefined || highC === undefined) throw new RangeError('no range is known between -80 and 120 degC');
  return { lowC, highC, at };
}
