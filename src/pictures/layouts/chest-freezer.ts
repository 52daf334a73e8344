/** A chest seen from the front and above, its lid up: the rear wall and the floor show, a ceiling there is none. */
import type { Drawing } from '../drawing.js';
import { frostOver } from '../frost.js';
import { grounds, inks } from '../palette.js';
import { element, polygon, polyline, type Point } from '../svg.js';

const stroke = { stroke: inks.line, 'stroke-width': 2, 'stroke-linejoin': 'round' } as const;

const at = (x: number, y: number): Point => ({ x, y });

// The rim's outer edge, its inner edge, and the floor; rear left, rear right, front right, front left.
const rim = [at(84, 122), at(316, 122), at(350, 246), at(50, 246)];
const mouth = [at(100, 132), at(300, 132), at(330, 234), at(70, 234)];
const floor = [at(116, 190), at(284, 190), at(302, 234), at(98, 234)];

export function chestFreezer(): Drawing {
  const wallNumber = at(200, 161);
  const floorNumber = at(200, 213);
  return {
    height: 346,
    drawn: [
      lid(),
      polygon(rim, { fill: grounds.cabinet, ...stroke }),
      polygon(mouth, { fill: grounds.freezerSide, ...stroke }),
      polygon([mouth[0]!, mouth[1]!, floor[1]!, floor[0]!], { fill: grounds.freezerWall, ...stroke }),
      polygon(floor, { fill: grounds.freezerSide, ...stroke }),
      front(),
    ],
    spots: {
      'freezer-back-wall': { at: wallNumber, frost: frostOver({ x: 116, y: 138, width: 168, height: 46 }) },
      'freezer-floor': { at: floorNumber, frost: frostOver({ x: 112, y: 194, width: 176, height: 38 }) },
      'door-edge': { at: at(338, 232), frost: frostOnRim() },
    },
    names: { freezer: at(200, 300) },
  };
}

function lid(): string {
  const outside = [at(84, 122), at(316, 122), at(328, 16), at(72, 16)];
  const seal = [at(98, 112), at(302, 112), at(312, 27), at(88, 27)];
  return (
    polygon(outside, { fill: grounds.door, ...stroke }) +
    polygon(seal, { fill: 'none', stroke: inks.line, 'stroke-width': 8 }) +
    polygon(seal, { fill: 'none', stroke: grounds.cabinet, 'stroke-width': 5.6 })
  );
}

function front(): string {
  return (
    element('rect', { x: 50, y: 246, width: 300, height: 86, fill: grounds.cabinet, ...stroke }) +
    element('rect', { x: 64, y: 332, width: 16, height: 6, fill: inks.line }) +
    element('rect', { x: 320, y: 332, width: 16, height: 6, fill: inks.line }) +
    polyline([at(64, 316), at(336, 316)], { stroke: inks.line, 'stroke-width': 1.2 })
  );
}

/** Frost on the rim that the lid's gasket closes on. */
function frostOnRim(): Point[] {
  const across = Array.from({ length: 13 }, (_, i) => at(66 + i * 20, 240));
  const down = Array.from({ length: 6 }, (_, i) => i / 6 + 0.1);
  return [
    ...across,
    ...down.slice(0, 5).map((share) => at(91 - 31 * share, 128 + 110 * share)),
    ...down.slice(0, 4).map((share) => at(309 + 31 * share, 128 + 110 * share)),
  ];
}
