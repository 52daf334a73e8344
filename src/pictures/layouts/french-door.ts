/**
 * Fresh food above behind two doors, freezer below with its drawer pulled out. With a dispenser the ice maker has a
 * room of its own in the fresh-food compartment.
 */
import type { Drawing } from '../drawing.js';
import { freezerWalls, freshFoodWall } from '../freezer-walls.js';
import { onDoor, openDoor } from '../open-door.js';
import { grounds, inks } from '../palette.js';
import { cabinet, chute, iceMaker, interior, shelves } from '../refrigerator.js';
import { element, polygon } from '../svg.js';

const food = { x: 102, y: 38, width: 196, height: 146 };
const foodInset = [40, 28] as const;
const freezer = { x: 102, y: 208, width: 196, height: 122 };
const freezerInset = [36, 36] as const;
const left = { hingeX: 94, top: 16, bottom: 194, reach: 70, to: 'left', eyeY: 200 } as const;
const right = { hingeX: 306, top: 16, bottom: 194, reach: 70, to: 'right', eyeY: 200 } as const;

export function frenchDoor(dispenser: boolean): Drawing {
  const maker = dispenser ? { x: 108, y: 70, width: 48, height: 60 } : { x: 107, y: 240, width: 46, height: 58 };
  return {
    height: 436,
    drawn: [
      cabinet({ x: 94, y: 14, width: 212, height: 326 }),
      interior(food, foodInset, 'freshFood'),
      shelves(food, foodInset, [0.227, 0.773]),
      interior(freezer, freezerInset, 'freezer'),
      iceMaker(maker),
      openDoor(left, dispenser ? [0.8] : [0.2, 0.5, 0.8]),
      openDoor(right, [0.2, 0.5, 0.8]),
      drawer(),
      ...(dispenser ? [chute(onDoor(left, 0.45, 0.27))] : []),
    ],
    spots: {
      ...freezerWalls(freezer, freezerInset, dispenser ? undefined : { box: maker, aside: true }),
      'ice-maker-area': { at: { x: maker.x + maker.width / 2, y: maker.y + 39 }, frost: [] },
      'door-edge': { at: { x: 302, y: 268 }, frost: frostOnRim() },
      'fresh-food-back-wall': freshFoodWall(food, foodInset, dispenser ? maker : undefined),
      ...(dispenser && { 'dispenser-chute': { at: onDoor(left, 0.45, 0.52), frost: [] } }),
    },
    names: { freshFood: { x: 200, y: 31 }, freezer: { x: 200, y: 201 } },
  };
}

/** The drawer, pulled out and so lower and wider in view: a wire basket behind a front. */
function drawer(): string {
  const rim = [
    { x: 104, y: 340 },
    { x: 296, y: 340 },
    { x: 312, y: 376 },
    { x: 88, y: 376 },
  ];
  const stroke = { stroke: inks.line, 'stroke-width': 2, 'stroke-linejoin': 'round' } as const;
  const wires = [0.2, 0.4, 0.6, 0.8].map((share) =>
    element('line', {
      x1: 104 + 192 * share,
      y1: 340,
      x2: 88 + 224 * share,
      y2: 376,
      stroke: inks.line,
      'stroke-width': 1.2,
    }),
  );
  return (
    polygon(rim, { fill: grounds.freezerSide, ...stroke }) +
    wires.join('') +
    element('rect', { x: 78, y: 376, width: 244, height: 52, rx: 4, fill: grounds.cabinet, ...stroke }) +
    element('rect', { x: 150, y: 390, width: 100, height: 7, rx: 3, fill: inks.line })
  );
}

/** Frost around the opening, where the drawer's gasket meets the cabinet. */
function frostOnRim(): { x: number; y: number }[] {
  const beside = Array.from({ length: 8 }, (_, i) => 216 + i * 15);
  return [...beside.map((y) => ({ x: 98, y })), ...beside.map((y) => ({ x: 302, y }))].filter(
    ({ x, y }) => x < 200 || Math.abs(y - 268) > 19,
  );
}
