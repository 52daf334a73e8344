/**
 * The refrigerator of a layout with its doors open and a number at each place where frost can be, so that "which
 * number looks like yours?" is answered with one number.
 */
import type { Drawing } from './drawing.js';
import { star } from './frost.js';
import { bottomFreezer } from './layouts/bottom-freezer.js';
import { chestFreezer } from './layouts/chest-freezer.js';
import { compact } from './layouts/compact.js';
import { frenchDoor } from './layouts/french-door.js';
import { sideBySide } from './layouts/side-by-side.js';
import { topFreezer } from './layouts/top-freezer.js';
import { uprightFreezer } from './layouts/upright-freezer.js';
import { wrapped } from './lettering.js';
import { inks, paper } from './palette.js';
import { picture, WIDTH, type Picture } from './picture.js';
import { element, letters, type Point } from './svg.js';

const DRAWINGS = {
  'top-freezer': topFreezer,
  'bottom-freezer': bottomFreezer,
  'side-by-side': sideBySide,
  'french-door': frenchDoor,
  'upright-freezer': uprightFreezer,
  'chest-freezer': chestFreezer,
  compact,
} as const satisfies Record<string, (dispenser: boolean) => Drawing>;

/** Where the freezer sits; the values of the finding `unit.layout`. */
export type Layout = keyof typeof DRAWINGS;

export const layouts = Object.keys(DRAWINGS) as Layout[];

/** A place has the same number in every picture: its rank among the values of the finding `frost.location`. */
const NUMBERS = {
  'freezer-back-wall': 1,
  'freezer-floor': 2,
  'dispenser-chute': 3,
  'door-edge': 4,
  'all-over': 5,
  'freezer-ceiling': 6,
  'ice-maker-area': 7,
  'fresh-food-back-wall': 8,
} as const;

/** A value of the finding `frost.location` that can be shown. */
export type FrostPlace = keyof typeof NUMBERS;

export interface NumberedPlace {
  readonly number: number;
  readonly value: FrostPlace;
}

export interface FrostPlacesOptions {
  /** whether ice comes through the door; left out of layouts that never have it */
  readonly dispenser: boolean;
  /** the words for a value of `frost.location` */
  readonly labels: (value: FrostPlace) => string;
  readonly title: string;
  /** written on the compartments, where there are two */
  readonly names?: { readonly freezer: string; readonly freshFood: string };
}

const MARGIN = 14;
const TITLE = { size: 17, line: 22 };
const LEGEND = { size: 15, line: 19, gap: 9, radius: 12, textX: 48 };

/**
 * Draws a layout's places. The one place without a spot of its own, frost on everything, stands in the legend only.
 * @returns the picture, its numbers in rising order, and the same in words
 */
export function frostPlaces(
  layout: Layout,
  { dispenser, labels, title, names }: FrostPlacesOptions,
): Picture & { readonly places: readonly NumberedPlace[] } {
  const drawing = DRAWINGS[layout](dispenser);
  const places = (Object.keys(NUMBERS) as FrostPlace[])
    .filter((value) => value === 'all-over' || value in drawing.spots)
    .map((value) => ({ number: NUMBERS[value], value }));

  const titleLines = wrapped(title, WIDTH - 2 * MARGIN, TITLE.size, true);
  const drawnFrom = MARGIN + titleLines.length * TITLE.line;
  const key = legend(places, labels, drawnFrom + drawing.height + 14);
  const alt = [title, ...places.map(({ number, value }) => `${number}: ${labels(value)}`)].join('\n');
  const { svg } = picture(key.bottom + 4, alt, [
    ...titleLines.map((line, i) =>
      letters(line, { x: MARGIN, y: MARGIN + 14 + i * TITLE.line }, { size: TITLE.size, fill: inks.line, bold: true }),
    ),
    element(
      'g',
      { transform: `translate(0 ${drawnFrom})` },
      ...drawing.drawn,
      ...(names ? compartmentNames(drawing, names) : []),
      frost(drawing),
      ...places.flatMap(({ number, value }) => {
        const spot = drawing.spots[value];
        return spot ? [badge(number, spot.at, 15)] : [];
      }),
    ),
    ...key.drawn,
  ]);
  return { svg, alt, places };
}

function legend(
  places: readonly NumberedPlace[],
  labels: FrostPlacesOptions['labels'],
  top: number,
): { drawn: string[]; bottom: number } {
  const drawn: string[] = [];
  let y = top;
  for (const { number, value } of places) {
    const lines = wrapped(labels(value), WIDTH - LEGEND.textX - MARGIN, LEGEND.size);
    drawn.push(badge(number, { x: MARGIN + LEGEND.radius, y: y + LEGEND.line / 2 }, LEGEND.radius));
    drawn.push(
      ...lines.map((line, i) =>
        letters(line, { x: LEGEND.textX, y: y + 15 + i * LEGEND.line }, { size: LEGEND.size, fill: inks.line }),
      ),
    );
    y += lines.length * LEGEND.line + LEGEND.gap;
  }
  return { drawn, bottom: y };
}

/** The frost of all places, none of it under a number. */
function frost({ spots }: Drawing): string {
  const numbers = Object.values(spots).map((spot) => spot.at);
  const stars = Object.values(spots)
    .flatMap((spot) => spot.frost)
    .filter((each) => numbers.every(({ x, y }) => Math.hypot(each.x - x, each.y - y) > 21));
  return element('path', { d: stars.map(star).join(''), stroke: inks.frost, 'stroke-width': 1.5, fill: 'none' });
}

function compartmentNames({ names: at }: Drawing, names: NonNullable<FrostPlacesOptions['names']>): string[] {
  const name = (words: string, where: Point): string =>
    letters(words, where, { size: 12, fill: inks.line, bold: true, anchor: 'middle' });
  return at.freshFood ? [name(names.freezer, at.freezer), name(names.freshFood, at.freshFood)] : [];
}

function badge(number: number, { x, y }: Point, radius: number): string {
  const size = Math.round(radius * 1.25);
  return (
    element('circle', { cx: x, cy: y, r: radius, fill: inks.line, stroke: paper, 'stroke-width': 2 }) +
    letters(String(number), { x, y: y + size * 0.365 }, { size, fill: paper, bold: true, anchor: 'middle' })
  );
}
