/** A temperature sensor's reading on the curve it should lie on, so that how far off it is can be seen. */
import { toPerson, type Unit, type UnitSystem } from '../physics/units.js';
import { bandShape, bandSign, expectedMark, rangeSign } from './band-marks.js';
import { axes, scalesOf, withMinus, type Quoted } from './chart-axes.js';
import { windowFor } from './chart-window.js';
import { bandOf, type OhmRange, type RangeAt } from './expected-band.js';
import { wrapped } from './lettering.js';
import { inks } from './palette.js';
import { picture, WIDTH, type Picture, type PictureWords } from './picture.js';
import { readingMarks } from './reading-marks.js';
import { letters, type Point } from './svg.js';
import { verdictShape, type Verdict } from './verdict-shape.js';

/** One reading as it was judged. */
export interface ShownReading {
  readonly ohm: number | 'OL';
  /** the sensor's own temperature, degC; null where nobody knows it */
  readonly atC: number | null;
  /** what it was judged to have to be at that temperature, ohm */
  readonly expected: OhmRange | null;
  readonly verdict: Verdict;
}

export interface SensorCurveInput {
  /** `at`: what a good sensor may read; its name stands in a technician's title */
  readonly curve: { readonly name: string; readonly at: RangeAt };
  /** one, or two to compare */
  readonly readings: readonly [ShownReading] | readonly [ShownReading, ShownReading];
  readonly units: UnitSystem;
  readonly words: PictureWords;
}

const MARGIN = 14;
const PLOT = { left: 66, right: 378, height: 250 } as const;

/**
 * Draws the curve around its readings. A reading far off stands as an arrow at the edge it lies beyond; one without a
 * temperature is a line across the whole curve.
 * @throws RangeError where the curve is known nowhere between -80 and 120 degC
 */
export function sensorCurve({ curve, readings, units, words }: SensorCurveInput): Picture {
  const quoted: Quoted = (value, unit) => words(`picture.unit.${unit.toLowerCase()}`, { value: withMinus(value) });
  const told = readings.map((reading, i) => ({
    verdict: reading.verdict,
    lines: tell(reading, readings.length > 1 ? i + 1 : null, { units, words, quoted }),
  }));
  const band = bandOf(curve.at);
  const title = words('picture.sensor.title', { curve: curve.name });
  const ranges = readings.some(({ atC, expected }) => atC !== null && expected !== null);
  const keys: Key[] = [
    { sign: bandSign, words: words('picture.sensor.band') },
    ...(ranges ? [{ sign: rangeSign, words: words('picture.sensor.range') }] : []),
  ];

  const titleLines = wrapped(title, WIDTH - 2 * MARGIN, 17, true);
  const ohmsAxisY = MARGIN + 14 + titleLines.length * 22 + 2;
  const plot = { left: PLOT.left, right: PLOT.right, top: ohmsAxisY + 10, bottom: ohmsAxisY + 10 + PLOT.height };
  const placed = readings.map(({ ohm, ...reading }) => ({ ...reading, ohm: ohm === 'OL' ? Infinity : ohm }));
  const scales = scalesOf(plot, windowFor(band, placed));
  const numbered = placed.map((reading, i) => (placed.length > 1 ? { ...reading, number: String(i + 1) } : reading));
  const caption = { size: 13, fill: inks.line } as const;
  const below = captions(told, keys, plot.bottom + 52);

  return picture(
    below.bottom + MARGIN - 6,
    [title, ...told.flatMap(({ lines }) => lines), ...keys.map((key) => key.words)].join('\n'),
    [
      ...titleLines.map((line, i) =>
        letters(line, { x: MARGIN, y: MARGIN + 14 + i * 22 }, { size: 17, fill: inks.line, bold: true }),
      ),
      letters(words('picture.sensor.ohms-axis'), { x: MARGIN, y: ohmsAxisY }, caption),
      ...bandShape(band, scales),
      ...axes(scales, units, quoted),
      letters(
        words(`picture.sensor.temperature-axis.${units}`),
        { x: (plot.left + plot.right) / 2, y: plot.bottom + 37 },
        { ...caption, anchor: 'middle' },
      ),
      ...readings.flatMap(({ atC, expected }) =>
        atC === null || expected === null ? [] : expectedMark(atC, expected, scales),
      ),
      ...readingMarks(numbered, band, scales),
      ...below.drawn,
    ],
  );
}

/** A sign of the chart, drawn around a point, with its words. */
interface Key {
  readonly sign: (middle: Point) => string;
  readonly words: string;
}

interface Telling {
  readonly units: UnitSystem;
  readonly words: PictureWords;
  readonly quoted: Quoted;
}

/** A reading in words: what was read and the verdict; then what was expected. */
function tell({ ohm, atC, expected, verdict }: ShownReading, number: number | null, telling: Telling): string[] {
  const { units, words, quoted } = telling;
  const say = (si: number, quantity: 'resistance' | 'temperature'): string => {
    const { value, unit }: { value: number; unit: Unit } = toPerson(si, quantity, units);
    return quoted(value, unit);
  };
  const fill = {
    value: ohm === 'OL' ? words('picture.sensor.over-limit') : say(ohm, 'resistance'),
    verdict: words(`picture.sensor.verdict.${verdict}`),
    ...(atC !== null && { at: say(atC, 'temperature') }),
  };
  const read = words(atC === null ? 'picture.sensor.reading-without-temperature' : 'picture.sensor.reading', fill);
  const range = expected && {
    low: say(expected.lowOhm, 'resistance'),
    high: say(expected.highOhm, 'resistance'),
  };
  return [
    number === null ? read : words('picture.sensor.numbered', { number: String(number), reading: read }),
    ...(range ? [words('picture.sensor.expected', range)] : []),
  ];
}

/** Below the chart: each verdict's shape with its words, then what the signs in the chart are. */
function captions(
  told: readonly { readonly verdict: Verdict; readonly lines: readonly string[] }[],
  keys: readonly Key[],
  top: number,
): { drawn: string[]; bottom: number } {
  const textX = MARGIN + 38;
  const width = WIDTH - textX - MARGIN;
  const drawn: string[] = [];
  let y = top;
  for (const { verdict, lines } of told) {
    drawn.push(verdictShape(verdict, { x: MARGIN + 14, y: y + 14 }));
    lines.forEach((words, i) => {
      for (const line of wrapped(words, width, i === 0 ? 15 : 14, i === 0)) {
        drawn.push(letters(line, { x: textX, y: y + 14 }, { size: i === 0 ? 15 : 14, fill: inks.line, bold: i === 0 }));
        y += 19;
      }
    });
    y += 10;
  }
  for (const { sign, words } of keys) {
    drawn.push(sign({ x: MARGIN + 14, y: y + 9 }));
    for (const line of wrapped(words, width, 14)) {
      drawn.push(letters(line, { x: textX, y: y + 14 }, { size: 14, fill: inks.line }));
      y += 19;
    }
    y += 3;
  }
  return { drawn, bottom: y };
}
