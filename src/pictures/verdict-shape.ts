/**
 * A verdict as a shape, so that no colour is needed to tell it: round with a tick, square with a cross, a diamond with
 * a question mark.
 */
import { inks, paper } from './palette.js';
import { element, polygon, px, type Point } from './svg.js';

export type Verdict = 'good' | 'bad' | 'inconclusive';

/** The shape around a point, about 24 px across. */
export function verdictShape(verdict: Verdict, { x, y }: Point): string {
  const body = { fill: inks[verdict], stroke: paper, 'stroke-width': 2 } as const;
  const sign = (d: string, width = 3): string =>
    element('path', { d, fill: 'none', stroke: paper, 'stroke-width': width, 'stroke-linecap': 'round' });
  switch (verdict) {
    case 'good':
      return (
        element('circle', { cx: x, cy: y, r: 12, ...body }) +
        sign(`M${px(x - 5)} ${px(y)}L${px(x - 1.5)} ${px(y + 4.5)}L${px(x + 5.5)} ${px(y - 4)}`)
      );
    case 'bad':
      return (
        element('rect', { x: x - 11, y: y - 11, width: 22, height: 22, ...body }) +
        sign(`M${px(x - 5)} ${px(y - 5)}L${px(x + 5)} ${px(y + 5)}M${px(x + 5)} ${px(y - 5)}L${px(x - 5)} ${px(y + 5)}`)
      );
    case 'inconclusive':
      return (
        polygon(
          [
            { x, y: y - 14 },
            { x: x + 14, y },
            { x, y: y + 14 },
            { x: x - 14, y },
          ],
          body,
        ) +
        sign(`M${px(x - 3.2)} ${px(y - 3.5)}a3.4 3.4 0 1 1 5 3.2q-1.8 1-1.8 2.3`, 2.4) +
        element('circle', { cx: x, cy: y + 6.2, r: 1.6, fill: paper })
      );
  }
}
