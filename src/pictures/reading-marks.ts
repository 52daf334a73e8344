/** The readings in a sensor chart, each with the shape of its verdict where it covers nothing else. */
import type { Scales } from './chart-axes.js';
import type { ExpectedBand, OhmRange } from './expected-band.js';
import { inks, paper } from './palette.js';
import { element, letters, polygon, type Point } from './svg.js';
import { verdictShape, type Verdict } from './verdict-shape.js';

/** A reading in the chart, over-limit as infinite ohms. Without a temperature it is a line across: it may lie anywhere on it. */
export interface Mark {
  readonly ohm: number;
  /** degC */
  readonly atC: number | null;
  readonly expected: OhmRange | null;
  readonly verdict: Verdict;
  /** written beside the shape where there are several */
  readonly number?: string;
}

/** Where a mark stands in the plot; one that lies beyond it stands at that edge. */
interface Spot extends Point {
  readonly beyond?: 'above' | 'below';
}

/** Draws the marks. What the shapes keep clear of: the band, the expected ranges, the other marks. */
export function readingMarks(marks: readonly Mark[], band: ExpectedBand, scales: Scales): string[] {
  const spots = marks.map((mark) => spotOf(mark, scales));
  const taken: Point[] = marks.flatMap((mark, i) => (mark.atC === null ? [] : [spots[i]!]));
  const isClear = (place: Point, own: Point): boolean =>
    inPlot(place, scales) &&
    offBand(place, band, scales) &&
    marks.every((mark) => offRange(place, mark, scales)) &&
    taken.every((other) => other === own || Math.hypot(other.x - place.x, other.y - place.y) > APART);

  return marks.flatMap((mark, i) => {
    const spot = spots[i]!;
    const places = mark.atC === null ? alongLine(spot, scales) : around(spot, band, scales);
    const inside = places.filter((place) => inPlot(place, scales));
    const shapeAt = inside.find((place) => isClear(place, spot)) ?? inside[0] ?? spot;
    taken.push(shapeAt);
    return [
      ...(mark.atC === null ? [lineAcross(spot, scales)] : [leader(spot, shapeAt), dotOrArrow(spot)]),
      ...(mark.atC === null && spot.beyond ? [dotOrArrow({ ...spot, x: shapeAt.x })] : []),
      verdictShape(mark.verdict, shapeAt),
      ...(mark.number ? [numberBeside(mark.number, shapeAt)] : []),
    ];
  });
}

// In px: from a shape's middle to what it must not touch; between the middles of marks; the number at its right; and
// how far a shape keeps from an arrow at the edge.
const CLEAR = 19;
const APART = 36;
const NUMBER = 12;
const EDGE = 12;

function spotOf({ ohm, atC }: Mark, { plot, shown, xOf, yOf }: Scales): Spot {
  const x = atC === null ? plot.left : xOf(atC);
  if (ohm > shown.toOhm) return { x, y: plot.top + 8, beyond: 'above' };
  if (ohm < shown.fromOhm) return { x, y: plot.bottom - 8, beyond: 'below' };
  return { x, y: yOf(ohm) };
}

/** Places around a dot, those first that lie on its own side of the band. */
function around(spot: Spot, band: ExpectedBand, scales: Scales): Point[] {
  const there = bandY(spot.x, band, scales);
  const above = !there || spot.y <= there.low;
  const up = [
    [32, -36],
    [42, 0],
    [0, -46],
    [64, -50],
    [-32, -36],
    [-42, 0],
    [56, -72],
  ] as const;
  const down = up.map(([x, y]) => [-x, -y] as const);
  return [...(above ? up : down), ...(above ? down : up)].map(([dx, dy]) => ({ x: spot.x + dx, y: spot.y + dy }));
}

/** Places on a line across, or beside it where it runs along an edge of the plot. */
function alongLine(spot: Spot, { plot }: Scales): Point[] {
  const y = Math.min(Math.max(spot.y, plot.top + CLEAR + EDGE), plot.bottom - CLEAR - EDGE);
  return [0.12, 0.84, 0.3, 0.66, 0.5].map((share) => ({ x: plot.left + (plot.right - plot.left) * share, y }));
}

function inPlot({ x, y }: Point, { plot }: Scales): boolean {
  return x > plot.left + CLEAR && x < plot.right - CLEAR - NUMBER && y > plot.top + CLEAR && y < plot.bottom - CLEAR;
}

function offBand({ x, y }: Point, band: ExpectedBand, scales: Scales): boolean {
  return [x - CLEAR / 2, x, x + CLEAR / 2 + NUMBER].every((each) => {
    const there = bandY(each, band, scales);
    return !there || y < there.high - CLEAR || y > there.low + CLEAR;
  });
}

function offRange({ x, y }: Point, { atC, expected }: Mark, { xOf, yOf }: Scales): boolean {
  if (atC === null || !expected || x > xOf(atC) + 10 + CLEAR) return true;
  return y < yOf(expected.highOhm) - CLEAR || y > yOf(expected.lowOhm) + CLEAR;
}

/** The band's edges in px at a place across the plot. */
function bandY(x: number, band: ExpectedBand, scales: Scales): { high: number; low: number } | undefined {
  const { plot, shown, yOf } = scales;
  const share = (x - plot.left) / (plot.right - plot.left);
  const at = band.at(shown.fromC + share * (shown.toC - shown.fromC));
  return at && { high: yOf(at.highOhm), low: yOf(at.lowOhm) };
}

/** A number at the right of a shape, on paper of its own. */
function numberBeside(number: string, { x, y }: Point): string {
  const backing = element('rect', { x: x + 13, y: y - 8, width: 15, height: 16, fill: paper });
  return backing + letters(number, { x: x + 16, y: y + 5 }, { size: 14, fill: inks.line, bold: true });
}

function lineAcross({ y }: Spot, { plot }: Scales): string {
  const dashed = { stroke: inks.line, 'stroke-width': 2, 'stroke-dasharray': '8 4' } as const;
  return element('line', { x1: plot.left, y1: y, x2: plot.right, y2: y, ...dashed });
}

function leader(from: Point, to: Point): string {
  return element('line', { x1: from.x, y1: from.y, x2: to.x, y2: to.y, stroke: inks.line, 'stroke-width': 1.5 });
}

function dotOrArrow({ x, y, beyond }: Spot): string {
  const look = { fill: inks.line, stroke: paper, 'stroke-width': 1.5 } as const;
  if (!beyond) return element('circle', { cx: x, cy: y, r: 4, ...look });
  const tip = beyond === 'above' ? -7 : 7;
  return polygon(
    [
      { x: x - 7, y: y - tip / 2 },
      { x: x + 7, y: y - tip / 2 },
      { x, y: y + tip },
    ],
    look,
  );
}
