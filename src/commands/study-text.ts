/** What `thawline study` prints, as tables. */
import type { Knowledge } from '../knowledge/facts.js';
import type { Picture } from '../pictures/picture.js';
import { say } from '../reply/say.js';
import { studyChart } from '../study/chart.js';
import type { Extent, Study } from '../study/course.js';
import type { Mean } from '../study/intervals.js';
import type { Ratios } from '../study/ratios.js';
import type { GroupFigures } from '../study/tally.js';

const NAME = 44;
const FIGURE = 9;
const WIDE = 15;
const COLUMNS = ['minutes', 'lead', 'right', 'questions', 'visits', 'needless', 'parts', 'handed-over'] as const;

type Told = Study & { readonly seed: number; readonly extent: Extent };

export function studyText(knowledge: Knowledge, found: Told): string {
  const words = (key: string, slots: Readonly<Record<string, string | number>> = {}): string =>
    say(knowledge, 'technician', key, slots);
  const line = (name: string, width: number, all: readonly string[]): string =>
    `  ${name.padEnd(NAME)}${all.map((f) => f.padStart(width)).join('')}`.trimEnd();
  const within = ({ mean, within: half }: Mean, times: number, digits: number): string =>
    words('study.within', { mean: (times * mean).toFixed(digits), within: (times * half).toFixed(digits) });

  const ratios = (title: string, by: Readonly<Record<string, Ratios>>, digits = 3): string[] => [
    '',
    title,
    line(
      words('study.by-optimum'),
      FIGURE,
      ['study.mean', 'study.p95', 'study.worst'].map((key) => words(key)),
    ),
    ...Object.entries(by).map(([name, { mean, p95, worst }]) =>
      line(
        words(`study.policy.${name}`),
        FIGURE,
        [mean, p95, worst].map((r) => r.toFixed(digits)),
      ),
    ),
  ];

  const group = (g: GroupFigures): string[] => {
    const { brier, log, split, curve } = g.calibration;
    const drawnFrom = g.off ? 'off' : 'drawn';
    return [
      '',
      words(`study.group.${g.words}.${drawnFrom}`, { n: g.callers, noise: knowledge.study.noise.value }),
      line(
        '',
        WIDE,
        COLUMNS.map((key) => words(`study.column.${key}`)),
      ),
      ...g.policies.map((p) =>
        line(words(`study.policy.${p.policy}`), WIDE, [
          within(p.minutes, 1, 0),
          p.policy === 'ours' ? '' : within(p.ourLead, 100, 1),
          within(p.rightFirst, 100, 0),
          within(p.questions, 1, 1),
          within(p.visits, 1, 2),
          within(p.needlessVisits, 1, 2),
          within(p.wrongParts, 1, 2),
          within(p.handedOver, 100, 0),
        ]),
      ),
      ...(g.words === 'homeowner'
        ? [
            `  ${words('study.needless', { fewer: within(g.fewerNeedless, 100, 1) })}`,
            `  ${words('study.sealed', g.sealed)}`,
          ]
        : []),
      `  ${words('study.scores', {
        brier: within(brier, 1, 3),
        log: within(log, 1, 3),
        off: split?.off.toFixed(4) ?? '',
        apart: split?.apart.toFixed(4) ?? '',
        spread: split?.spread.toFixed(4) ?? '',
      })}`,
      `  ${words('study.curve')}`,
      ...curve.map(
        ({ from, to, count, share }) =>
          `    ${words('study.block', { from: from.toFixed(2), to: to.toFixed(2), share: share.toFixed(2), count })}`,
      ),
    ];
  };

  const lists = Object.entries(found.lists).flatMap(([who, { items, gap }]) => [
    '',
    words(gap === null ? 'study.list.our-rule' : 'study.list.gap', {
      who,
      gap: gap ?? 0,
      callers: found.extent.training,
    }),
    ...items.map((item, i) => `  ${i + 1}. ${item}`),
  ]);

  return `${[
    words('study.title', { seed: found.seed }),
    ...found.random.flatMap(({ faults, questions, policies }) =>
      ratios(words('study.size', { faults, questions, n: policies['ours']?.of ?? 0 }), policies),
    ),
    ...ratios(words('study.sub-models', { n: found.extent.subModels }), found.subModels),
    ...ratios(words('study.look-ahead', { n: found.extent.beliefs }), { capped: found.lookAhead }, 4),
    ...lists,
    ...found.groups.flatMap(group),
    '',
    words('study.dangers', { ...found.dangers, atMost: (100 * found.dangers.atMost).toFixed(2) }),
  ].join('\n')}\n`;
}

export const chartOf = (knowledge: Knowledge, groups: readonly GroupFigures[]): Picture =>
  studyChart(groups, {
    title: say(knowledge, 'technician', 'study.chart'),
    group: ({ words, off, callers }) => {
      const drawnFrom = off ? 'off' : 'drawn';
      return say(knowledge, 'technician', `study.chart.${words}.${drawnFrom}`, { n: callers });
    },
    policy: (name) => say(knowledge, 'technician', `study.policy.${name}`),
  });
