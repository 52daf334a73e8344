/** A freezer that stands like a cupboard, with one door hinged on the right. */
import type { Drawing } from '../drawing.js';
import { freezerWalls } from '../freezer-walls.js';
import { frostOnGasket } from '../frost.js';
import { onDoor, openDoor } from '../open-door.js';
import { cabinet, iceMaker, interior, shelves } from '../refrigerator.js';

const freezer = { x: 82, y: 26, width: 158, height: 318 };
const inset = [36, 44] as const;
const door = { hingeX: 248, top: 16, bottom: 352, reach: 84, to: 'right', eyeY: 185 } as const;
const maker = { x: 86, y: 70, width: 44, height: 58 };

export function uprightFreezer(): Drawing {
  return {
    height: 376,
    drawn: [
      cabinet({ x: 74, y: 14, width: 174, height: 340 }),
      interior(freezer, inset, 'freezer'),
      shelves(freezer, inset, [0.314, 0.686]),
      iceMaker(maker),
      openDoor(door, [0.15, 0.32, 0.49, 0.66, 0.83]),
    ],
    spots: {
      ...freezerWalls(freezer, inset, { box: maker, aside: false }),
      'ice-maker-area': { at: { x: 108, y: maker.y + 39 }, frost: [] },
      'door-edge': { at: onDoor(door, 0.9, 0.57), frost: frostOnGasket(door, 14) },
    },
    names: { freezer: { x: 161, y: 24 } },
  };
}
