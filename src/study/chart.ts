/** The mean cost of each way of asking as bars with their 95 % intervals, one block a group of callers. */
import { inks, grounds } from '../pictures/palette.js';
import { picture, WIDTH, type Picture } from '../pictures/picture.js';
import { element, letters } from '../pictures/svg.js';
import type { GroupFigures } from './tally.js';

/** The words on it: of a group, of a policy, of the whole. */
export interface ChartWords {
  readonly title: string;
  readonly group: (group: GroupFigures) => string;
  readonly policy: (name: string) => string;
}

const LEFT = 168;
const RIGHT = WIDTH - 44;
const ROW = 18;
const BAR = 10;
const HEAD = 30;
const TOP = 34;

export function studyChart(groups: readonly GroupFigures[], words: ChartWords): Picture {
  const most = Math.max(...groups.flatMap((g) => g.policies.map((p) => p.minutes.mean + p.minutes.within)));
  const across = (minutes: number): number => LEFT + ((RIGHT - LEFT) * minutes) / most;
  const drawn = [letters(words.title, { x: 10, y: 20 }, { size: 12, fill: inks.line, bold: true })];
  let y = TOP;
  for (const group of groups) {
    drawn.push(letters(words.group(group), { x: 10, y: y + 16 }, { size: 11, fill: inks.line }));
    y += HEAD;
    for (const { policy, minutes } of group.policies) {
      const middle = y + BAR / 2;
      const ours = policy === 'ours';
      const ends = [minutes.mean - minutes.within, minutes.mean + minutes.within].map(across) as [number, number];
      const bar = { x: LEFT, y, width: across(minutes.mean) - LEFT, height: BAR };
      const spread = { x1: ends[0], y1: middle, x2: ends[1], y2: middle, stroke: inks.line, 'stroke-width': 1.2 };
      drawn.push(
        letters(
          words.policy(policy),
          { x: LEFT - 6, y: y + 9 },
          { size: 9, fill: inks.line, anchor: 'end', bold: ours },
        ),
        element('rect', { ...bar, fill: ours ? inks.frost : grounds.band }),
        element('line', spread),
        letters(minutes.mean.toFixed(0), { x: ends[1] + 4, y: y + 9 }, { size: 9, fill: inks.line }),
      );
      y += ROW;
    }
  }
  return picture(y + 10, words.title, drawn);
}
