/** A small refrigerator with one door and an ice box under its top. */
import type { Drawing } from '../drawing.js';
import { freezerWalls, freshFoodWall } from '../freezer-walls.js';
import { frostOnGasket } from '../frost.js';
import { onDoor, openDoor } from '../open-door.js';
import { grounds, inks } from '../palette.js';
import { cabinet, interior, shelves } from '../refrigerator.js';
import { element } from '../svg.js';

const food = { x: 68, y: 188, width: 204, height: 134 };
const foodInset = [40, 24] as const;
const iceBox = { x: 80, y: 46, width: 180, height: 126 };
const iceBoxInset = [36, 39] as const;
const door = { hingeX: 280, top: 16, bottom: 330, reach: 84, to: 'right', eyeY: 172 } as const;

export function compact(): Drawing {
  const stroke = { stroke: inks.line, 'stroke-width': 2 } as const;
  return {
    height: 354,
    drawn: [
      cabinet({ x: 60, y: 14, width: 220, height: 318 }),
      element('rect', { x: 68, y: 22, width: 204, height: 300, fill: grounds.foodSide, ...stroke }),
      interior(food, foodInset, 'freshFood'),
      shelves(food, foodInset, [0.773]),
      element('rect', { x: 72, y: 26, width: 196, height: 152, rx: 4, fill: grounds.cabinet, ...stroke }),
      interior(iceBox, iceBoxInset, 'freezer'),
      openDoor(door, [0.2, 0.4, 0.6, 0.8]),
    ],
    spots: {
      ...freezerWalls(iceBox, iceBoxInset),
      'door-edge': { at: onDoor(door, 0.9, 0.5), frost: frostOnGasket(door, 12) },
      'fresh-food-back-wall': freshFoodWall(food, foodInset),
    },
    names: { freezer: { x: 170, y: 40 }, freshFood: { x: 170, y: 204 } },
  };
}
