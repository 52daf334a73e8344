/** The axes of a sensor chart: temperature across in the person's unit, ohms upwards on a logarithmic scale. */
import { kelvinsFromFahrenheitDegrees, toPerson, type Unit, type UnitSystem } from '../physics/units.js';
import { inks } from './palette.js';
import { element, letters } from './svg.js';

/** In px of the picture. */
export interface Plot {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** What the plot shows: temperatures in degC, resistances in ohm. */
export interface Shown {
  readonly fromC: number;
  readonly toC: number;
  readonly fromOhm: number;
  readonly toOhm: number;
}

export interface Scales {
  readonly plot: Plot;
  readonly shown: Shown;
  readonly xOf: (temperatureC: number) => number;
  readonly yOf: (ohm: number) => number;
}

/** How to write a value in a unit. */
export type Quoted = (value: number, unit: Unit) => string;

export function scalesOf(plot: Plot, shown: Shown): Scales {
  const across = (plot.right - plot.left) / (shown.toC - shown.fromC);
  const upwards = (plot.bottom - plot.top) / Math.log(shown.toOhm / shown.fromOhm);
  return {
    plot,
    shown,
    xOf: (temperatureC) => plot.left + (temperatureC - shown.fromC) * across,
    yOf: (ohm) => plot.bottom - Math.log(ohm / shown.fromOhm) * upwards,
  };
}

/** Grid lines with their numbers, and a frame. */
export function axes({ plot, shown, xOf, yOf }: Scales, system: UnitSystem, quoted: Quoted): string[] {
  const number = { size: 12, fill: inks.line } as const;
  const grid = { stroke: inks.quiet, 'stroke-width': 0.8, 'stroke-dasharray': '1 4' } as const;
  const across = temperatureTicks(shown, system).flatMap(({ celsius, label }) => {
    const x = xOf(celsius);
    return [
      element('line', { x1: x, y1: plot.top, x2: x, y2: plot.bottom, ...grid }),
      letters(label, { x, y: plot.bottom + 17 }, { ...number, anchor: 'middle' }),
    ];
  });
  const upwards = ohmTicks(shown).flatMap((ohm) => {
    const y = yOf(ohm);
    const { value, unit } = toPerson(ohm, 'resistance', system);
    return [
      element('line', { x1: plot.left, y1: y, x2: plot.right, y2: y, ...grid }),
      letters(quoted(value, unit), { x: plot.left - 6, y: y + 4 }, { ...number, anchor: 'end' }),
    ];
  });
  const frame = element('rect', {
    x: plot.left,
    y: plot.top,
    width: plot.right - plot.left,
    height: plot.bottom - plot.top,
    fill: 'none',
    stroke: inks.line,
    'stroke-width': 1.5,
  });
  return [...across, ...upwards, frame];
}

/** Round degrees of the person's scale, seven steps or fewer; which scale stands below the axis. */
function temperatureTicks({ fromC, toC }: Shown, system: UnitSystem): { celsius: number; label: string }[] {
  const [zeroC, degreeK] = system === 'us' ? [fahrenheitZeroC, kelvinsFromFahrenheitDegrees(1)] : [0, 1];
  const [from, to] = [(fromC - zeroC) / degreeK, (toC - zeroC) / degreeK];
  const step = [2, 5, 10, 20, 50].find((each) => (to - from) / each <= 7.5) ?? 100;
  const first = Math.ceil(from / step - 1e-9);
  const count = Math.floor(to / step + 1e-9) - first + 1;
  return Array.from({ length: count }, (_, i) => {
    const value = (first + i) * step;
    return { celsius: zeroC + value * degreeK, label: withMinus(value) };
  });
}

const fahrenheitZeroC = kelvinsFromFahrenheitDegrees(-32);

/** A number with a minus sign where it has one, in place of a hyphen. */
export const withMinus = (value: number): string => String(value).replace('-', '−');

// Round numbers of a decade, from few to many.
const ROUND = [
  [1],
  [1, 3],
  [1, 2, 5],
  [1, 1.5, 2, 3, 4, 5, 6, 8],
  [1, 1.2, 1.5, 1.8, 2, 2.5, 3, 3.5, 4, 5, 6, 7, 8, 9],
] as const;

/** As few round ohms as give four lines. */
function ohmTicks({ fromOhm, toOhm }: Shown): number[] {
  const lowest = Math.floor(Math.log10(fromOhm));
  const decades = Array.from({ length: Math.ceil(Math.log10(toOhm)) - lowest }, (_, i) => 10 ** (lowest + i));
  const ways = ROUND.map((marks) =>
    decades
      .flatMap((decade) => marks.map((mark) => Number((decade * mark).toPrecision(2))))
      .filter((ohm) => ohm >= fromOhm && ohm <= toOhm),
  );
  return ways.find((ticks) => ticks.length >= 4) ?? ways[ways.length - 1]!;
}
