/** Which part of a sensor's curve a chart shows: around the readings, near enough to tell a good one from a bad one. */
import type { Shown } from './chart-axes.js';
import type { ExpectedBand } from './expected-band.js';

/** Around the outermost readings, and at least so wide, K. */
const AROUND_K = 12;
const NARROWEST_K = 30;
/** Past the end of the curve there is nothing to see but a reading; then some of the curve is kept in view. */
const BEYOND_K = 4;
const OF_THE_CURVE_K = 20;
/** A reading further above or below the curve than this factor is shown at the edge. */
const FARTHEST = 8;
/** Room above and below, as a factor of ohms. */
const ROOM = 1.12;

export interface Placed {
  readonly ohm: number;
  readonly atC: number | null;
}

/** The window for readings (over-limit is infinite ohms); the whole curve where none has a temperature. */
export function windowFor(band: ExpectedBand, readings: readonly Placed[]): Shown {
  const { fromC, toC } = temperatures(band, readings);
  const ends = [fromC, toC].map((celsius) => Math.min(Math.max(celsius, band.lowC), band.highC));
  const bands = ends.flatMap((celsius) => band.at(celsius) ?? []);
  const lowOhm = Math.min(...bands.map((each) => each.lowOhm));
  const highOhm = Math.max(...bands.map((each) => each.highOhm));
  const near = readings.map(({ ohm }) => Math.min(Math.max(ohm, lowOhm / FARTHEST), highOhm * FARTHEST));
  return {
    fromC,
    toC,
    fromOhm: Math.min(lowOhm, ...near) / ROOM,
    toOhm: Math.max(highOhm, ...near) * ROOM,
  };
}

function temperatures(band: ExpectedBand, readings: readonly Placed[]): { fromC: number; toC: number } {
  const known = readings.flatMap(({ atC }) => atC ?? []);
  if (known.length === 0) return { fromC: band.lowC, toC: band.highC };
  const [coldest, warmest] = [Math.min(...known), Math.max(...known)];
  const around = Math.max(AROUND_K, (NARROWEST_K - (warmest - coldest)) / 2);
  return {
    fromC: Math.min(Math.max(coldest - around, band.lowC), coldest - BEYOND_K, band.highC - OF_THE_CURVE_K),
    toC: Math.max(Math.min(warmest + around, band.highC), warmest + BEYOND_K, band.lowC + OF_THE_CURVE_K),
  };
}
