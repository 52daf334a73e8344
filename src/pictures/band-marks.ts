/** What a sensor chart shows as expected: the band, and the range at a reading's temperature. */
import type { Scales } from './chart-axes.js';
import { curveWithin, type ExpectedBand, type OhmRange } from './expected-band.js';
import { grounds, inks } from './palette.js';
import { element, polygon, polyline, px, type Point } from './svg.js';

const SAMPLES = 80;

/** The band as far as it is known within the window, with the curve in its middle where it is one curve's. */
export function bandShape(band: ExpectedBand, { shown, xOf, yOf }: Scales): string[] {
  const from = Math.max(shown.fromC, band.lowC);
  const to = Math.min(shown.toC, band.highC);
  const samples = Array.from({ length: SAMPLES + 1 }, (_, i) => from + ((to - from) * i) / SAMPLES).flatMap(
    (celsius) => {
      const at = band.at(celsius);
      return at ? [{ x: xOf(celsius), at }] : [];
    },
  );
  const line = (ohmOf: (range: OhmRange) => number | undefined): Point[] =>
    samples.flatMap(({ x, at }) => {
      const ohm = ohmOf(at);
      return ohm === undefined ? [] : [{ x, y: yOf(ohm) }];
    });
  const high = line((at) => at.highOhm);
  const low = line((at) => at.lowOhm);
  const curve = line(curveWithin);
  const edge = { stroke: inks.frost, 'stroke-width': 1.2 } as const;
  return [
    polygon([...high, ...low.toReversed()], { fill: grounds.band }),
    polyline(high, edge),
    polyline(low, edge),
    ...(curve.length === samples.length ? [polyline(curve, { stroke: inks.line, 'stroke-width': 1.2 })] : []),
  ];
}

/** The range expected at a temperature: a bracket there, and its ends led to the axis of ohms. */
export function expectedMark(temperatureC: number, range: OhmRange, { plot, xOf, yOf }: Scales): string[] {
  const x = xOf(temperatureC);
  const [high, low] = [yOf(range.highOhm), yOf(range.lowOhm)];
  const led = [high, low].map((y) =>
    element('line', {
      x1: plot.left,
      y1: y,
      x2: x - 10,
      y2: y,
      stroke: inks.frost,
      'stroke-width': 1.2,
      'stroke-dasharray': '5 3',
    }),
  );
  return [...led, bracket({ x, y: high }, low - high)];
}

function bracket({ x, y }: Point, height: number): string {
  const [left, middle, right, high, low] = [x - 10, x, x + 10, y, y + height].map(px);
  const d = `M${left} ${high}H${right}M${left} ${low}H${right}M${middle} ${high}V${low}`;
  return element('path', { d, stroke: inks.line, 'stroke-width': 2.4, fill: 'none' });
}

/** The band as it stands in the key below a chart. */
export function bandSign({ x, y }: Point): string {
  const box = { x: x - 12, y: y - 7, width: 24, height: 14 };
  return element('rect', { ...box, fill: grounds.band, stroke: inks.frost, 'stroke-width': 1.2 });
}

/** The bracket as it stands in the key below a chart. */
export function rangeSign({ x, y }: Point): string {
  return bracket({ x, y: y - 7 }, 14);
}
