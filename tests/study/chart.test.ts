import { expect, test } from 'vitest';
import { studyChart } from '../../src/study/chart.js';
import { tally } from '../../src/study/tally.js';
import type { Tale } from '../../src/study/tales.js';

const tale = (minutes: number): Tale => ({
  minutes,
  questions: 3,
  visits: 1,
  wrongParts: 0,
  right: true,
  handedOver: false,
  needless: 0,
  sealed: null,
});

test('each policy has its bar, as long as its minutes, and its words', () => {
  const by = { ours: [tale(100), tale(100)], 'printed-list': [tale(200), tale(200)] };
  const group = tally({ words: 'technician', off: false }, { by, told: [] });
  const { svg } = studyChart([group], { title: 'Title <b>', group: () => 'a group', policy: (name) => `of ${name}` });
  const widths = [...svg.matchAll(/<rect x="[\d.]+" y="[\d.]+" width="([\d.]+)"/g)].map((m) => Number(m[1]));
  expect(widths).toHaveLength(2);
  expect(widths[1]).toBeCloseTo(2 * widths[0]!, 1);
  for (const words of ['Title &lt;b&gt;', 'a group', 'of ours', 'of printed-list', '>100<', '>200<'])
    expect(svg).toContain(words);
});

test('a lead is a share of the other, and what a caller of ours costs more or less on the same callers', () => {
  const by = { ours: [tale(100), tale(300)], 'call-someone': [tale(200), tale(300)] };
  const { policies, fewerNeedless } = tally({ words: 'homeowner', off: false }, { by, told: [] });
  expect(policies[1]?.ourLead.mean).toBeCloseTo(0.2, 12);
  expect(policies[1]?.moreThanOurs.mean).toBe(50);
  expect(fewerNeedless.mean).toBeNaN();
});
