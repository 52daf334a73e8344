/** Frost as stars: on a wall, along a gasket, hidden behind what stands in front. Sizes in px. */
import type { Spot } from './drawing.js';
import { onDoor, type OpenDoor } from './open-door.js';
import type { Box } from './refrigerator.js';
import { px, type Point } from './svg.js';

/** Frost spread over a box in px: rows of stars, 17 px apart or so. */
export function frostOver({ x, y, width, height }: Box): Point[] {
  const [columns, rows] = [Math.max(1, Math.round(width / 19)), Math.max(1, Math.round(height / 17))];
  const stars: Point[] = [];
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      const shift = row % 2 === 0 ? 0.32 : 0.68;
      stars.push({ x: x + ((column + shift) * width) / columns, y: y + ((row + 0.5) * height) / rows });
    }
  }
  return stars;
}

/** The spot without the frost that would lie over something standing in front of it. */
export function behind(front: Box, { at, frost }: Spot): Spot {
  const hidden = ({ x, y }: Point): boolean =>
    x > front.x - 7 && x < front.x + front.width + 7 && y > front.y - 7 && y < front.y + front.height + 7;
  return { at, frost: frost.filter((each) => !hidden(each)) };
}

/** A star of frost, as a path. */
export function star({ x, y }: Point): string {
  const arms = [0, 60, 120].map((degrees) => {
    const turn = (degrees * Math.PI) / 180;
    const [dx, dy] = [4.2 * Math.cos(turn), 4.2 * Math.sin(turn)];
    return `M${px(x - dx)} ${px(y - dy)}L${px(x + dx)} ${px(y + dy)}`;
  });
  return arms.join('');
}

/** Frost along a door's gasket, the hinge side left out. */
export function frostOnGasket(door: OpenDoor, steps: number): Point[] {
  const down = 8 / (door.bottom - door.top);
  const along = Array.from({ length: steps }, (_, i) => (i + 0.5) / steps);
  return [
    ...along.map((share) => onDoor(door, 0.9, down + (1 - 2 * down) * share)),
    ...[0.25, 0.6].flatMap((across) => [onDoor(door, across, down), onDoor(door, across, 1 - down)]),
  ];
}
