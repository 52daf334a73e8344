/** Fresh food above, freezer below, one door each, both hinged on the right. With a dispenser the ice maker is above. */
import type { Drawing } from '../drawing.js';
import { freezerWalls, freshFoodWall } from '../freezer-walls.js';
import { frostOnGasket } from '../frost.js';
import { onDoor, openDoor } from '../open-door.js';
import { cabinet, chute, iceMaker, interior, shelves } from '../refrigerator.js';

const food = { x: 74, y: 38, width: 178, height: 146 };
const foodInset = [38, 28] as const;
const freezer = { x: 74, y: 208, width: 178, height: 138 };
const freezerInset = [38, 40] as const;
const eyeY = 185;
const foodDoor = { hingeX: 260, top: 16, bottom: 194, reach: 84, to: 'right', eyeY } as const;
const freezerDoor = { hingeX: 260, top: 198, bottom: 354, reach: 84, to: 'right', eyeY } as const;

export function bottomFreezer(dispenser: boolean): Drawing {
  const maker = { x: 78, y: dispenser ? 70 : 246, width: 44, height: 58 };
  return {
    height: 372,
    drawn: [
      cabinet({ x: 66, y: 14, width: 194, height: 342 }),
      interior(food, foodInset, 'freshFood'),
      shelves(food, foodInset, [0.227, 0.773]),
      interior(freezer, freezerInset, 'freezer'),
      iceMaker(maker),
      openDoor(foodDoor, dispenser ? [0.78] : [0.2, 0.5, 0.8]),
      openDoor(freezerDoor, [0.3, 0.8]),
      ...(dispenser ? [chute(onDoor(foodDoor, 0.42, 0.25))] : []),
    ],
    spots: {
      ...freezerWalls(freezer, freezerInset, dispenser ? undefined : { box: maker, aside: true }),
      'ice-maker-area': { at: { x: 100, y: maker.y + 39 }, frost: [] },
      'door-edge': { at: onDoor(freezerDoor, 0.9, 0.55), frost: frostOnGasket(freezerDoor, 8) },
      'fresh-food-back-wall': freshFoodWall(food, foodInset, dispenser ? maker : undefined),
      ...(dispenser && { 'dispenser-chute': { at: onDoor(foodDoor, 0.42, 0.5), frost: [] } }),
    },
    names: { freshFood: { x: 163, y: 31 }, freezer: { x: 163, y: 201 } },
  };
}
