/** The pieces that every drawing of a refrigerator is put together from. Sizes and places in px of the picture. */
import { grounds, inks } from './palette.js';
import { element, polygon, polyline, type Point } from './svg.js';

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export type Compartment = 'freezer' | 'freshFood';

export const outline = { stroke: inks.line, 'stroke-width': 2, 'stroke-linejoin': 'round' } as const;
export const thin = { stroke: inks.line, 'stroke-width': 1.2 } as const;

const wallOf = { freezer: grounds.freezerWall, freshFood: grounds.foodWall } as const;
const sideOf = { freezer: grounds.freezerSide, freshFood: grounds.foodSide } as const;

/** The outside of the cabinet, standing on two feet. */
export function cabinet({ x, y, width, height }: Box): string {
  const foot = (left: number): string =>
    element('rect', { x: left, y: y + height, width: 14, height: 6, fill: inks.line });
  return (
    foot(x + 14) +
    foot(x + width - 28) +
    element('rect', { x, y, width, height, rx: 5, fill: grounds.cabinet, ...outline })
  );
}

/** The back wall of a compartment seen straight on, with the other walls around it: that much from each side. */
export function backWall({ x, y, width, height }: Box, [across, down]: readonly [number, number]): Box {
  return { x: x + across, y: y + down, width: width - 2 * across, height: height - 2 * down };
}

/** A compartment one looks into: side walls, ceiling and floor meet the back wall. */
export function interior(opening: Box, inset: readonly [number, number], kind: Compartment): string {
  const back = backWall(opening, inset);
  const outer = corners(opening);
  const inner = corners(back);
  return (
    polygon(outer, { fill: sideOf[kind], ...outline }) +
    polygon(inner, { fill: wallOf[kind], ...outline }) +
    outer.map((corner, i) => polyline([corner, inner[i]!], outline)).join('')
  );
}

/** Shelves as rails on both side walls and an edge along the back, at these heights of the back wall (0 top, 1 floor). */
export function shelves(opening: Box, inset: readonly [number, number], heights: readonly number[]): string {
  const back = backWall(opening, inset);
  return heights
    .map((share) => {
      const deep = back.y + back.height * share;
      const near = opening.y + opening.height * (0.1 + 0.8 * share);
      const reach = inset[0] * 0.8;
      const left = { x: opening.x + inset[0] - reach, y: deep + (near - deep) * 0.8 };
      const right = { x: opening.x + opening.width - inset[0] + reach, y: left.y };
      return polyline([left, { x: back.x, y: deep }, { x: back.x + back.width, y: deep }, right], thin);
    })
    .join('');
}

/** The opening in the door through which ice falls into a glass: a funnel with a cube in it. */
export function chute(centre: Point): string {
  const { x, y } = centre;
  const funnel = [
    { x: x - 15, y: y - 13 },
    { x: x + 15, y: y - 13 },
    { x: x + 7, y: y + 13 },
    { x: x - 7, y: y + 13 },
  ];
  return polygon(funnel, { fill: grounds.cabinet, ...outline }) + cube({ x: x - 4.5, y: y - 8 }, 9);
}

/** An ice maker over its bin; the number stands on the bin's front. */
export function iceMaker({ x, y, width, height }: Box): string {
  const making = 20;
  const cubes = Array.from({ length: Math.floor((width - 6) / 11) }, (_, i) =>
    cube({ x: x + 5 + i * 11, y: y + 6 }, 8),
  );
  return (
    element('rect', { x, y: y + making, width, height: height - making, fill: grounds.cabinet, ...outline }) +
    element('rect', { x, y, width, height: making, fill: grounds.door, ...outline }) +
    cubes.join('')
  );
}

function cube({ x, y }: Point, size: number): string {
  return element('rect', { x, y, width: size, height: size, fill: grounds.freezerSide, ...thin });
}

function corners({ x, y, width, height }: Box): Point[] {
  return [
    { x, y },
    { x: x + width, y },
    { x: x + width, y: y + height },
    { x, y: y + height },
  ];
}
