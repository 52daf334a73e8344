import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { frostPlaces, layouts, type FrostPlace, type Layout } from '../../src/pictures/frost-places.js';
import { grounds } from '../../src/pictures/palette.js';
import { box, lettering, overlap, pixels, sizeOf, wordsOf } from './drawn.js';

const finding = parse(readFileSync('knowledge/findings/frost.location.yaml', 'utf8')) as {
  values: string[];
  choices: Record<string, { homeowner: string; technician: string }>;
};

const drawn = (layout: Layout, dispenser: boolean, role: 'homeowner' | 'technician' = 'homeowner') => {
  const words = wordsOf(role);
  return frostPlaces(layout, {
    dispenser,
    labels: (value) => finding.choices[value]![role],
    title: words('picture.frost.title'),
    names: { freezer: words('picture.frost.freezer'), freshFood: words('picture.frost.fresh-food') },
  });
};

const withChute: readonly Layout[] = ['top-freezer', 'bottom-freezer', 'side-by-side', 'french-door'];
const all = layouts.flatMap((layout) =>
  (withChute.includes(layout) ? [false, true] : [true]).map((dispenser) => ({ layout, dispenser })),
);

/** The circles with numbers: those in the drawing, then those of the legend. */
function badges(svg: string): { x: number; y: number; r: number; number: string; inDrawing: boolean }[] {
  const group = /<g transform="translate\(0 (\S+)\)">/.exec(svg)!;
  const groupEnd = svg.indexOf('</g>');
  return [...svg.matchAll(/<circle cx="(\S+)" cy="(\S+)" r="(\S+)"[^>]*\/><text [^>]*>(\d)<\/text>/g)].map((found) => {
    const inDrawing = found.index < groupEnd;
    const [x, y, r] = found.slice(1, 4).map(Number) as [number, number, number];
    return { x, y: inDrawing ? y + Number(group[1]) : y, r, number: found[4]!, inDrawing };
  });
}

describe.each(all)('$layout, dispenser $dispenser', ({ layout, dispenser }) => {
  const { svg, places, alt } = drawn(layout, dispenser);
  const inDrawing = badges(svg).filter((badge) => badge.inDrawing);

  test('each place once, with its own number, in the drawing and in the legend', () => {
    expect(new Set(places.map(({ value }) => value)).size).toBe(places.length);
    expect(new Set(places.map(({ number }) => number)).size).toBe(places.length);
    const spots = places.filter(({ value }) => value !== 'all-over');
    expect(inDrawing.map(({ number }) => Number(number))).toEqual(spots.map(({ number }) => number));
    const legend = badges(svg).filter((badge) => !badge.inDrawing);
    expect(legend.map(({ number }) => Number(number))).toEqual(places.map(({ number }) => number));
  });

  test('a number is the rank of its value in the finding', () => {
    for (const { number, value } of places) expect(finding.values[number - 1]).toBe(value);
  });

  test('numbers are apart and inside the picture', () => {
    const { width, height } = sizeOf(svg);
    inDrawing.forEach((badge, i) => {
      const reach = badge.r + 1;
      expect(Math.min(badge.x, badge.y, width - badge.x, height - badge.y)).toBeGreaterThan(reach);
      for (const other of inDrawing.slice(i + 1)) {
        expect(Math.hypot(badge.x - other.x, badge.y - other.y)).toBeGreaterThan(badge.r + other.r + 2);
      }
    });
  });

  test('lettering: 11 px or more at 400 px, inside the picture, nothing over another', () => {
    for (const role of ['homeowner', 'technician'] as const) {
      const picture = drawn(layout, dispenser, role);
      const { width, height } = sizeOf(picture.svg);
      expect(width).toBe(400);
      const lines = lettering(picture.svg);
      for (const line of lines) {
        expect(line.size, line.words).toBeGreaterThanOrEqual(11);
        expect(line.box.x, line.words).toBeGreaterThanOrEqual(4);
        expect(line.box.x + line.box.width, line.words).toBeLessThanOrEqual(width - 4);
        expect(line.box.y + line.box.height, line.words).toBeLessThanOrEqual(height - 4);
      }
      lines.forEach((line, i) => {
        for (const other of lines.slice(i + 1))
          expect(overlap(line.box, other.box), `${line.words} / ${other.words}`).toBe(false);
      });
      const circles = badges(picture.svg).map(({ x, y, r }) => ({ x: x - r, y: y - r, width: 2 * r, height: 2 * r }));
      for (const line of lines.filter(({ words }) => !/^\d$/.test(words))) {
        expect(
          circles.some((circle) => overlap(circle, line.box)),
          line.words,
        ).toBe(false);
      }
    }
  });

  test('well-formed, with ink where words are, and nothing drawn outside', () => {
    const [withFonts, without] = [pixels(svg, 400), pixels(svg, 400, false)];
    expect(withFonts.width).toBe(400);
    for (const { box: where, words } of lettering(svg)) {
      const differs = Array.from({ length: Math.round(where.width) }, (_, i) => where.x + i).some((x) =>
        Array.from({ length: Math.round(where.height) }, (_, j) => where.y + j).some(
          (y) => withFonts.at(x, y) !== without.at(x, y),
        ),
      );
      expect(differs, words).toBe(true);
    }
    const everything = box(svg);
    expect(everything.x).toBeGreaterThanOrEqual(0);
    expect(everything.x + everything.width).toBeLessThanOrEqual(400);
    expect(everything.y + everything.height).toBeLessThanOrEqual(sizeOf(svg).height);
  });

  test('each number touches the surface that it means', () => {
    const surface: Partial<Record<FrostPlace, string>> = {
      'freezer-back-wall': grounds.freezerWall,
      'freezer-floor': grounds.freezerSide,
      'freezer-ceiling': grounds.freezerSide,
      'fresh-food-back-wall': grounds.foodWall,
      'ice-maker-area': grounds.cabinet,
      'dispenser-chute': grounds.door,
      'door-edge': grounds.cabinet,
    };
    const picture = pixels(svg, 400);
    for (const badge of inDrawing) {
      const { value } = places.find(({ number }) => String(number) === badge.number)!;
      const around = [18, 21, 24].flatMap((reach) =>
        Array.from({ length: 36 }, (_, i) => {
          const turn = (i * Math.PI) / 18;
          return picture.at(badge.x + reach * Math.cos(turn), badge.y + reach * Math.sin(turn));
        }),
      );
      expect(around, value).toContain(surface[value]);
    }
  });

  test('frost is drawn, none of it under a number', () => {
    const [, d] = /<path d="([^"]*)" stroke="#15518c"/.exec(svg)!;
    const drop = Number(/<g transform="translate\(0 (\S+)\)">/.exec(svg)![1]);
    const tips = [...d!.matchAll(/[ML](\S+) ([^ML]+)/g)].map(([, x, y]) => ({ x: Number(x), y: Number(y) + drop }));
    expect(tips.length).toBeGreaterThan(100);
    for (const { x, y, r } of inDrawing) {
      for (const tip of tips) expect(Math.hypot(tip.x - x, tip.y - y)).toBeGreaterThan(r + 1);
    }
  });

  test('a freezer’s ceiling is above its back wall, and its floor below', () => {
    const yOf = (value: FrostPlace): number | undefined => {
      const number = places.find((place) => place.value === value)?.number;
      return inDrawing.find((badge) => Number(badge.number) === number)?.y;
    };
    const wall = yOf('freezer-back-wall')!;
    expect(yOf('freezer-ceiling') ?? -Infinity).toBeLessThan(wall - 25);
    expect(yOf('freezer-floor')).toBeGreaterThan(wall + 25);
  });

  test('the same in words, made of the words given', () => {
    const lines = alt.split('\n');
    expect(lines[0]).toBe('Which number looks like your frost?');
    expect(lines.slice(1)).toEqual(
      places.map(({ number, value }) => `${number}: ${finding.choices[value]!.homeowner}`),
    );
    expect(alt.length).toBeLessThanOrEqual(1024);
  });
});

test('only places that the layout has', () => {
  const has = (layout: Layout, dispenser = true): string[] => drawn(layout, dispenser).places.map(({ value }) => value);
  for (const layout of layouts) expect(has(layout).includes('dispenser-chute')).toBe(withChute.includes(layout));
  expect(has('chest-freezer')).toEqual(['freezer-back-wall', 'freezer-floor', 'door-edge', 'all-over']);
  expect(has('upright-freezer')).not.toContain('fresh-food-back-wall');
  expect(has('compact')).not.toContain('ice-maker-area');
  for (const layout of withChute) {
    expect(has(layout, false)).not.toContain('dispenser-chute');
    expect(has(layout)).toContain('fresh-food-back-wall');
  }
});

test('long and awkward words are wrapped and escaped', () => {
  const label = 'In & <under> the "ice" maker, along the whole of its far side';
  const { svg } = frostPlaces('french-door', {
    dispenser: true,
    labels: () => label,
    title: `${label}\u0000 ${label}`,
  });
  const lines = lettering(svg);
  expect(lines.filter(({ words }) => words.startsWith('In & <under> the "ice"')).length).toBeGreaterThan(8);
  for (const line of lines) expect(line.box.x + line.box.width).toBeLessThanOrEqual(396);
  expect(pixels(svg).width).toBe(400);
});

const vocabularyFile = '../shared/vocabulary.yaml';
test.skipIf(!existsSync(vocabularyFile))(
  'layouts and values are those of the vocabulary (skipped where it is absent)',
  () => {
    const vocabulary = parse(readFileSync(vocabularyFile, 'utf8')) as {
      layouts: string[];
      findings: Record<string, { values: string[] }>;
    };
    expect([...layouts]).toEqual(vocabulary.layouts);
    const shown = new Set(
      all.flatMap(({ layout, dispenser }) => drawn(layout, dispenser).places.map(({ value }) => value)),
    );
    expect([...shown, 'none'].sort()).toEqual([...vocabulary.findings['frost.location']!.values].sort());
  },
);
