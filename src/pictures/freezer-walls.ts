/** The walls of a compartment where frost shows, each with its number and its frost. */
import type { Spot } from './drawing.js';
import { behind, frostOver } from './frost.js';
import { backWall, type Box } from './refrigerator.js';
import type { Point } from './svg.js';

export type WallSpots = Readonly<Record<'freezer-ceiling' | 'freezer-back-wall' | 'freezer-floor', Spot>>;

/**
 * Ceiling, back wall and floor of a freezer compartment with these insets.
 * @param inFront what hides part of them, and whether the numbers move aside for it
 */
export function freezerWalls(
  opening: Box,
  inset: readonly [number, number],
  inFront?: { readonly box: Box; readonly aside: boolean },
): WallSpots {
  const back = backWall(opening, inset);
  const left = inFront?.aside ? inFront.box.x + inFront.box.width : back.x;
  const x = (left + back.x + back.width) / 2;
  const spot = (y: number, height: number, clear: (star: Point) => boolean): Spot => {
    const at = { x, y: y + height / 2 };
    const box = { x: opening.x, y: y + 4, width: opening.width, height: height - 8 };
    const whole = { at, frost: frostOver(box).filter(clear) };
    return inFront ? behind(inFront.box, whole) : whole;
  };
  // A wall is as wide as the back wall where it meets it, and widens towards the opening.
  const onWall = (star: Point, fromBack: number): boolean =>
    Math.abs(star.x - (back.x + back.width / 2)) < back.width / 2 + (inset[0] * fromBack) / inset[1] - 9;
  const floorY = back.y + back.height;
  return {
    'freezer-ceiling': spot(opening.y, inset[1], (star) => onWall(star, back.y - star.y)),
    'freezer-back-wall': spot(back.y, back.height, (star) => onWall(star, 0)),
    'freezer-floor': spot(floorY, inset[1], (star) => onWall(star, star.y - floorY)),
  };
}

/** The back wall of the fresh-food compartment; its number moves aside for what stands in front at the left. */
export function freshFoodWall(opening: Box, inset: readonly [number, number], inFront?: Box): Spot {
  const back = backWall(opening, inset);
  const box = { x: back.x + 3, y: back.y + 4, width: back.width - 6, height: back.height - 8 };
  const left = inFront ? inFront.x + inFront.width : box.x;
  const at = { x: (left + box.x + box.width) / 2, y: box.y + box.height / 2 };
  const whole = { at, frost: frostOver(box) };
  return inFront ? behind(inFront, whole) : whole;
}
