/** Freezer on the left, fresh food on the right, each door hinged at its own side. */
import type { Drawing } from '../drawing.js';
import { freezerWalls, freshFoodWall } from '../freezer-walls.js';
import { frostOnGasket } from '../frost.js';
import { onDoor, openDoor } from '../open-door.js';
import { cabinet, chute, iceMaker, interior, shelves } from '../refrigerator.js';

const freezer = { x: 104, y: 38, width: 86, height: 306 };
const food = { x: 202, y: 38, width: 94, height: 306 };
const inset = [21, 42] as const;
const freezerDoor = { hingeX: 96, top: 16, bottom: 352, reach: 68, to: 'left', eyeY: 185 } as const;
const foodDoor = { hingeX: 304, top: 16, bottom: 352, reach: 68, to: 'right', eyeY: 185 } as const;
const maker = { x: 112, y: 84, width: 70, height: 58 };

export function sideBySide(dispenser: boolean): Drawing {
  return {
    height: 376,
    drawn: [
      cabinet({ x: 96, y: 14, width: 208, height: 340 }),
      interior(freezer, inset, 'freezer'),
      iceMaker(maker),
      interior(food, inset, 'freshFood'),
      shelves(food, inset, [0.24, 0.389, 0.611, 0.76]),
      openDoor(freezerDoor, dispenser ? [0.68, 0.85] : [0.2, 0.36, 0.68, 0.85]),
      openDoor(foodDoor, [0.2, 0.36, 0.52, 0.68, 0.85]),
      ...(dispenser ? [chute(onDoor(freezerDoor, 0.45, 0.32))] : []),
    ],
    spots: {
      ...freezerWalls(freezer, inset, { box: maker, aside: false }),
      'ice-maker-area': { at: { x: 147, y: maker.y + 39 }, frost: [] },
      'door-edge': { at: onDoor(freezerDoor, 0.9, 0.57), frost: frostOnGasket(freezerDoor, 14) },
      'fresh-food-back-wall': freshFoodWall(food, inset),
      ...(dispenser && { 'dispenser-chute': { at: onDoor(freezerDoor, 0.45, 0.43), frost: [] } }),
    },
    names: { freezer: { x: 147, y: 31 }, freshFood: { x: 249, y: 31 } },
  };
}
