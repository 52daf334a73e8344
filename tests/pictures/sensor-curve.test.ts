import { describe, expect, test } from 'vitest';
import { grounds, inks, paper } from '../../src/pictures/palette.js';
import { sensorCurve, type ShownReading } from '../../src/pictures/sensor-curve.js';
import { toleranceBandOhm } from '../../src/physics/sensor-tolerance.js';
import { spreadThrough } from '../../src/physics/sheet-points.js';
import { tableCurve } from '../../src/physics/thermistor.js';
import { curveA, tables } from '../physics/published-curves.js';
import { box, lettering, overlap, pixels, sizeOf, wordKeys, wordsOf } from './drawn.js';

// Curve A with its printed limits: Vishay NTCALUG02A502G, document 29094, page 5.
const table = tableCurve(curveA);
const at = (celsius: number) => {
  const band = toleranceBandOhm(table, { from: 'columns' }, celsius);
  return band.kind === 'found' ? band : undefined;
};
const curve = { name: '5 kilohm sensor, Beta 3984', at };

type Readings = readonly [ShownReading] | readonly [ShownReading, ShownReading];
const read = (ohm: ShownReading['ohm'], atC: number | null, verdict: ShownReading['verdict']): ShownReading => ({
  ohm,
  atC,
  expected: atC === null ? null : (at(atC) ?? null),
  verdict,
});
const asked = new Set<string>();
const draw = (readings: Readings, units: 'us' | 'si' = 'si', role: 'homeowner' | 'technician' = 'homeowner') =>
  sensorCurve({ curve, readings, units, words: wordsOf(role, asked) });

const cases: Record<string, Readings> = {
  good: [read(5400, 22.8, 'good')],
  'bad, too many ohms': [read(11_200, 22.8, 'bad')],
  'bad, too few ohms': [read(3100, 0, 'bad')],
  'two temperatures': [read(5400, 22.8, 'good'), read(22_100, 0, 'bad')],
  'two at one temperature': [read(5400, 22.8, 'good'), read(7800, 22.8, 'bad')],
  'two alike': [read(16_300, 0, 'good'), read(16_400, 0.5, 'good')],
  'over-limit': [read('OL', 22.8, 'bad')],
  short: [read(0, -18, 'bad')],
  'no temperature': [read(5400, null, 'inconclusive')],
  'over-limit, no temperature': [read('OL', null, 'bad')],
  'two without temperature': [read(5400, null, 'inconclusive'), read(5500, null, 'inconclusive')],
  'warmer than the curve goes': [read(2000, 60, 'inconclusive')],
  'at the cold end': [read(167_000, -40, 'good')],
  'at the warm end': [read(2662, 40, 'good')],
  megohms: [read(4_700_000, 10, 'bad')],
};
const all = Object.entries(cases).flatMap(([name, readings]) => [
  { name, readings, units: 'us', role: 'homeowner' } as const,
  { name, readings, units: 'si', role: 'technician' } as const,
]);

/** Ohms and degrees to px, taken from where the axes' own numbers stand. */
function scale(svg: string) {
  const texts = [...svg.matchAll(/<text x="(\S+)" y="(\S+)" font-size="12"[^>]*>([^<]*)<\/text>/g)].map(
    ([, x, y, words]) => ({
      x: Number(x),
      y: Number(y),
      words: words!,
    }),
  );
  const ohms = texts.flatMap(({ y, words }) => {
    const found = /^([\d.]+) ([kM]?)Ω$/.exec(words);
    return found ? [{ y: y - 4, ohm: Number(found[1]) * { '': 1, k: 1e3, M: 1e6 }[found[2]!]! }] : [];
  });
  const degrees = texts.flatMap(({ x, words }) =>
    /^−?\d+$/.test(words) ? [{ x, value: Number(words.replace('−', '-')) }] : [],
  );
  const [low, high] = [ohms[0]!, ohms[ohms.length - 1]!];
  const [cold, warm] = [degrees[0]!, degrees[degrees.length - 1]!];
  return {
    ohms,
    degrees,
    yOf: (ohm: number) => low.y + ((high.y - low.y) * Math.log(ohm / low.ohm)) / Math.log(high.ohm / low.ohm),
    xOf: (value: number) => cold.x + ((warm.x - cold.x) * (value - cold.value)) / (warm.value - cold.value),
  };
}

describe('the band stands where the published table says (Vishay 29094)', () => {
  // Nominal and limits as printed; a window from -15 to +15 degC.
  const printed = [
    [-10, 27_609, 26_807, 28_411],
    [-5, 21_134, 20_550, 21_718],
    [5, 12_691, 12_375, 13_007],
    [10, 9948, 9714, 10_183],
  ] as const;
  const { svg } = draw([read(50_000, 0, 'bad')]);
  const { xOf, yOf } = scale(svg);
  const picture = pixels(svg, 2000);
  const inBand = (x: number, y: number): boolean => picture.at(x, y) === grounds.band;

  test.each(printed)('%d degC', (celsius, nominal, low, high) => {
    // A third of a degree beside the grid line, along the curve's slope there.
    const x = xOf(celsius + 0.3);
    const slid = Math.exp(Math.log(nominal / at(celsius + 0.3)!.lowOhm) - Math.log(nominal / at(celsius)!.lowOhm));
    const y = (ohm: number): number => yOf(ohm / slid);
    expect(inBand(x, y(nominal * 0.5 + high * 0.5))).toBe(true);
    expect(inBand(x, y(nominal * 0.5 + low * 0.5))).toBe(true);
    // The curve itself: a dark line at the nominal value.
    expect(picture.at(x, y(nominal))).toBe(inks.line);
    // Three times as far out there is paper again.
    expect(picture.at(x, y(nominal + 3 * (high - nominal)))).toBe(paper);
    expect(picture.at(x, y(nominal - 3 * (nominal - low)))).toBe(paper);
  });

  test('the edges lie at the printed limits, to 0.5 px', () => {
    const points = [...svg.matchAll(/<polyline points="([^"]*)"[^>]*stroke="#15518c"/g)].map(([, list]) =>
      list!.split(' ').map((pair) => pair.split(',').map(Number) as [number, number]),
    );
    const [upper, lower] = points as [[number, number][], [number, number][]];
    const yAt = (line: [number, number][], x: number): number => {
      const next = line.findIndex(([px]) => px >= x);
      const [[x0, y0], [x1, y1]] = [line[next - 1]!, line[next]!];
      return y0 + ((y1 - y0) * (x - x0)) / (x1 - x0);
    };
    for (const [celsius, , low, high] of printed) {
      expect(Math.abs(yAt(upper, xOf(celsius)) - yOf(high))).toBeLessThan(0.5);
      expect(Math.abs(yAt(lower, xOf(celsius)) - yOf(low))).toBeLessThan(0.5);
    }
  });
});

test('the reading’s dot and its expected range stand at the right place, in either unit', () => {
  for (const [units, celsius, degrees] of [
    ['si', 25, 25],
    ['us', 25, 77],
  ] as const) {
    const { svg } = draw([read(5600, celsius, 'bad')], units);
    const { xOf, yOf } = scale(svg);
    const [, cx, cy] = /<circle cx="(\S+)" cy="(\S+)" r="4"/.exec(svg)!;
    expect(Math.abs(Number(cx) - xOf(degrees))).toBeLessThan(0.5);
    expect(Math.abs(Number(cy) - yOf(5600))).toBeLessThan(0.5);
    // 4900 to 5100 ohm at 25 degC, as printed.
    const bracket = /<path d="M\S+ (\S+)H\S+M\S+ (\S+)H[^"]*V/.exec(svg)!;
    expect(Math.abs(Number(bracket[1]!.split('H')[0]) - yOf(5100))).toBeLessThan(0.5);
    expect(Math.abs(Number(bracket[2]!.split('H')[0]) - yOf(4900))).toBeLessThan(0.5);
  }
});

test('the scale of ohms is logarithmic: equal ratios are equally far apart', () => {
  const { ohms, yOf } = scale(draw([read(50_000, 0, 'bad')]).svg);
  expect(ohms.length).toBeGreaterThanOrEqual(4);
  for (const { ohm, y } of ohms) expect(Math.abs(y - yOf(ohm))).toBeLessThan(0.1);
});

describe.each(all)('$name, $units, $role', ({ readings, units, role }) => {
  const { svg, alt } = draw(readings, units, role);
  const lines = lettering(svg);

  test('lettering: 11 px or more, inside the picture, nothing over another', () => {
    const { width, height } = sizeOf(svg);
    for (const line of lines) {
      expect(line.size, line.words).toBeGreaterThanOrEqual(11);
      expect(line.box.x, line.words).toBeGreaterThanOrEqual(4);
      expect(line.box.x + line.box.width, line.words).toBeLessThanOrEqual(width - 4);
      expect(line.box.y + line.box.height, line.words).toBeLessThanOrEqual(height - 4);
    }
    lines.forEach((line, i) => {
      for (const other of lines.slice(i + 1)) {
        expect(overlap(line.box, other.box), `${line.words} / ${other.words}`).toBe(false);
      }
    });
  });

  test('well-formed, with ink for the words, all of it inside', () => {
    expect(pixels(svg).bytes.equals(pixels(svg, 400, false).bytes)).toBe(false);
    const drawn = box(svg);
    expect(Math.min(drawn.x, drawn.y)).toBeGreaterThanOrEqual(0);
    expect(drawn.x + drawn.width).toBeLessThanOrEqual(400);
    expect(drawn.y + drawn.height).toBeLessThanOrEqual(sizeOf(svg).height);
  });

  test('no colour beside the checked ones', () => {
    const known = new Set<string>([paper, ...Object.values(grounds), ...Object.values(inks), 'none']);
    const colours = [...svg.matchAll(/(?:fill|stroke)="([^"]*)"/g)].map((found) => found[1]!);
    expect(colours.filter((colour) => !known.has(colour))).toEqual([]);
  });

  test('four to ten numbers on the ohm axis, three to nine on the other', () => {
    const { ohms, degrees } = scale(svg);
    expect(ohms.length).toBeGreaterThanOrEqual(4);
    expect(ohms.length).toBeLessThanOrEqual(10);
    expect(degrees.length).toBeGreaterThanOrEqual(3);
    expect(degrees.length).toBeLessThanOrEqual(9);
  });

  test('the words tell the same: value, temperature, verdict, and the range where there is one', () => {
    const told = alt.split('\n');
    const ranges = readings.filter(({ expected }) => expected).length;
    expect(told.length).toBe(2 + readings.length + ranges + (ranges > 0 ? 1 : 0));
    const bad = readings.filter(({ verdict }) => verdict === 'bad').length;
    expect(told.filter((line) => line.endsWith(' bad')).length).toBe(bad);
    if (readings[0].atC === 22.8) expect(alt).toContain(units === 'us' ? '73 °F' : '22.8 °C');
    expect(alt.length).toBeLessThanOrEqual(1024);
  });
});

test('each verdict has its own outline, which needs neither its colour nor its sign', () => {
  const outlines = (['good', 'bad', 'inconclusive'] as const).map((verdict) => {
    const { svg } = draw([read(5400, 22.8, verdict)]);
    const bare = svg
      .replaceAll(/<path[^>]*stroke="#ffffff"[^>]*\/>|<text.*?<\/text>/g, '')
      .replaceAll(inks[verdict], inks.line);
    return pixels(bare, 400);
  });
  // Beside the words, below the chart; the three pictures are laid out alike.
  const differing = (one: (typeof outlines)[number], other: (typeof outlines)[number]): number => {
    let count = 0;
    for (let y = 350; y < one.height; y++) {
      for (let x = 12; x < 44; x++) if (one.at(x, y) !== other.at(x, y)) count++;
    }
    return count;
  };
  expect(new Set(outlines.map(({ height }) => height)).size).toBe(1);
  for (const [i, j] of [
    [0, 1],
    [0, 2],
    [1, 2],
  ] as const) {
    expect(differing(outlines[i]!, outlines[j]!)).toBeGreaterThan(60);
  }
});

/** The middles of the round and the square shapes in the chart. */
function shapesIn(svg: string): { x: number; y: number }[] {
  const round = [...svg.matchAll(/<circle cx="(\S+)" cy="(\S+)" r="12"/g)];
  const square = [...svg.matchAll(/<rect x="(\S+)" y="(\S+)" width="22" height="22"/g)];
  return [
    ...round.map(([, x, y]) => ({ x: Number(x), y: Number(y) })),
    ...square.map(([, x, y]) => ({ x: Number(x) + 11, y: Number(y) + 11 })),
  ].filter(({ x }) => x > 66);
}

const readable: Record<string, Readings> = {
  ...Object.fromEntries(
    Object.entries(cases).filter(([, list]) => list.every(({ verdict }) => verdict !== 'inconclusive')),
  ),
  'lines across, one through the band at its left': [read(90_000, null, 'bad'), read(3000, null, 'bad')],
  'low, above the other’s expected range': [read(16_300, 0, 'good'), read(20_000, -5, 'bad')],
};
test.each(Object.entries(readable))(
  '%s: shapes keep off the band, the expected ranges and each other',
  (_, readings) => {
    const { svg } = draw(readings);
    const chart = shapesIn(svg);
    expect(chart.length).toBe(readings.length);
    // Without the shapes, their leaders, the grid and the lines across there is only paper where they stood.
    const bare = pixels(
      svg
        .replaceAll(/<circle[^>]*r="12".*?<path[^>]*\/>|<rect[^>]*width="22" height="22".*?<path[^>]*\/>/g, '')
        .replaceAll(/<line[^>]*(stroke-width="1.5"|stroke-dasharray="(1|8) 4")\/>/g, ''),
    );
    for (const { x, y } of chart) {
      for (let turn = 0; turn < 24; turn++) {
        const [dx, dy] = [Math.cos((turn * Math.PI) / 12), Math.sin((turn * Math.PI) / 12)];
        expect(bare.at(x + 11 * dx, y + 11 * dy)).toBe(paper);
      }
      for (const other of chart)
        expect((other.x === x && other.y === y) || Math.hypot(other.x - x, other.y - y) > 30).toBe(true);
    }
  },
);

test('a tech sheet’s one point: a wide band with no curve in it', () => {
  const shapes = {
    references: (['A', 'C', 'D'] as const).map((name) => tableCurve(tables[name])),
    betaLowK: 3000,
    betaHighK: 4500,
    betaBetweenC: [0, 25] as const,
  };
  const bySheet = (celsius: number) => {
    const spread = spreadThrough([{ temperatureC: 22.8, resistanceOhm: 5400 }], celsius, shapes);
    return spread.kind === 'found' ? spread : undefined;
  };
  const { svg } = sensorCurve({
    curve: { name: 'the sheet', at: bySheet },
    readings: [{ ohm: 15_000, atC: 0, expected: bySheet(0)!, verdict: 'inconclusive' }],
    units: 'us',
    words: wordsOf('technician', asked),
  });
  expect([...svg.matchAll(/<polyline/g)].length).toBe(2);
  expect([...draw(cases['good']!).svg.matchAll(/<polyline/g)].length).toBe(3);
});

test('a curve that is known nowhere is refused', () => {
  expect(() =>
    sensorCurve({
      curve: { name: 'none', at: () => undefined },
      readings: [{ ohm: 5400, atC: 0, expected: null, verdict: 'inconclusive' }],
      units: 'si',
      words: wordsOf('technician'),
    }),
  ).toThrow(RangeError);
});

test('every word kept for the pictures is used', () => {
  for (const { readings, units, role } of all) draw(readings, units, role);
  draw([read(600, 40, 'bad')]);
  const unused = wordKeys.filter((key) => !asked.has(key) && !key.startsWith('picture.frost.'));
  expect(unused).toEqual([]);
});
