/** Freezer above, fresh food below, one door each, both hinged on the right. */
import type { Drawing } from '../drawing.js';
import { freezerWalls, freshFoodWall } from '../freezer-walls.js';
import { frostOnGasket } from '../frost.js';
import { onDoor, openDoor } from '../open-door.js';
import { cabinet, chute, iceMaker, interior, shelves } from '../refrigerator.js';

const freezer = { x: 74, y: 38, width: 178, height: 138 };
const freezerInset = [38, 40] as const;
const food = { x: 74, y: 200, width: 178, height: 142 };
const foodInset = [38, 26] as const;
const eyeY = 185;
const freezerDoor = { hingeX: 260, top: 16, bottom: 186, reach: 84, to: 'right', eyeY } as const;
const foodDoor = { hingeX: 260, top: 190, bottom: 350, reach: 84, to: 'right', eyeY } as const;
const maker = { x: 78, y: 76, width: 44, height: 58 };

export function topFreezer(dispenser: boolean): Drawing {
  const chuteAt = onDoor(freezerDoor, 0.42, 0.3);
  const underChute = onDoor(freezerDoor, 0.42, 0.53);
  const edge = onDoor(freezerDoor, 0.9, 0.62);
  return {
    height: 366,
    drawn: [
      cabinet({ x: 66, y: 14, width: 194, height: 338 }),
      interior(freezer, freezerInset, 'freezer'),
      iceMaker(maker),
      interior(food, foodInset, 'freshFood'),
      shelves(food, foodInset, [0.227, 0.773]),
      openDoor(freezerDoor, dispenser ? [0.8] : [0.3, 0.8]),
      openDoor(foodDoor, [0.2, 0.5, 0.8]),
      ...(dispenser ? [chute(chuteAt)] : []),
    ],
    spots: {
      ...freezerWalls(freezer, freezerInset, { box: maker, aside: true }),
      'ice-maker-area': { at: { x: 100, y: 115 }, frost: [] },
      'door-edge': { at: edge, frost: frostOnGasket(freezerDoor, 8) },
      'fresh-food-back-wall': freshFoodWall(food, foodInset),
      ...(dispenser && { 'dispenser-chute': { at: underChute, frost: [] } }),
    },
    names: { freezer: { x: 163, y: 31 }, freshFood: { x: 163, y: 193 } },
  };
}
