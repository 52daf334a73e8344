/** A door that stands open, seen from its inside; its free edge comes nearer than its hinge. Sizes in px. */
import { grounds, inks } from './palette.js';
import { outline, thin } from './refrigerator.js';
import { polygon, type Point } from './svg.js';

/** A door that stands open to one side. `top` and `bottom` are its edges at the hinge; the free edge comes nearer. */
export interface OpenDoor {
  readonly hingeX: number;
  readonly top: number;
  readonly bottom: number;
  readonly reach: number;
  readonly to: 'left' | 'right';
  /** the height of the eye: there a door's edge runs level */
  readonly eyeY: number;
}

/** A point of the door's inside: `across` 0 at the hinge to 1 at the free edge, `down` 0 at its top to 1. */
export function onDoor(door: OpenDoor, across: number, down: number): Point {
  const nearer = 1 + 0.09 * across;
  const y = door.top + (door.bottom - door.top) * down;
  const x = door.hingeX + (door.to === 'left' ? -1 : 1) * door.reach * across;
  return { x, y: door.eyeY + (y - door.eyeY) * nearer };
}

/** The inside of a door: panel, gasket all round, and bins at these heights. */
export function openDoor(door: OpenDoor, bins: readonly number[] = []): string {
  const quad = (margin: readonly [number, number]): Point[] => [
    onDoor(door, margin[0], margin[1]),
    onDoor(door, 1 - margin[0], margin[1]),
    onDoor(door, 1 - margin[0], 1 - margin[1]),
    onDoor(door, margin[0], 1 - margin[1]),
  ];
  const down = 5 / (door.bottom - door.top);
  const gasket = quad([0.1, down * 1.6]);
  return (
    polygon(quad([0, 0]), { fill: grounds.door, ...outline }) +
    polygon(gasket, { fill: 'none', stroke: inks.line, 'stroke-width': 8 }) +
    polygon(gasket, { fill: 'none', stroke: grounds.cabinet, 'stroke-width': 5.6 }) +
    bins.map((at) => bin(door, at)).join('')
  );
}

function bin(door: OpenDoor, down: number): string {
  const depth = 16 / (door.bottom - door.top);
  const [from, to] = [0.2, 0.8];
  return polygon(
    [
      onDoor(door, from, down),
      onDoor(door, to, down),
      onDoor(door, to, down + depth),
      onDoor(door, from, down + depth),
    ],
    { fill: grounds.cabinet, ...thin },
  );
}
