import { describe, expect, test } from 'vitest';
import { modelOf } from '../../src/diagnosis/model.js';
import { drawCaller } from '../../src/study/caller.js';
import { drawsOf, normal, placeOf } from '../../src/study/chance.js';
import { otherModel } from '../../src/study/other-model.js';
import { realKnowledge } from '../support/knowledge.js';

const knowledge = realKnowledge();
const model = modelOf(knowledge);
const COUNT = 1500;
const callers = Array.from({ length: COUNT }, (_, i) => drawCaller(knowledge, 'homeowner', drawsOf(5, i)));
/** Five standard deviations of a share. */
const near = (share: number, p: number, n = COUNT): void =>
  expect(Math.abs(share - p)).toBeLessThan(5 * Math.sqrt((p * (1 - p)) / n) + 1 / n);
const shareOf = (holds: (c: (typeof callers)[number]) => boolean): number => callers.filter(holds).length / COUNT;

describe('made-up callers', () => {
  test('have each cause as often as the model says', () => {
    model.prior.forEach((p, h) =>
      near(
        shareOf((c) => c.cause === h),
        p,
      ),
    );
  });

  test('show what their cause shows as often as its table says', () => {
    const step = knowledge.steps.get('cooling.freezer')!;
    step.values.forEach((value, v) => {
      const expected = model.prior.reduce((sum, p, h) => sum + p * model.chances(step)[v]![h]!, 0);
      near(
        shareOf((c) => c.shows(step.id) === value),
        expected,
      );
    });
  });

  test('are not sure as often as the folder says', () => {
    const { notSure, hardAtHome } = knowledge.study;
    near(
      shareOf((c) => !c.tells('gasket.condition')),
      notSure.homeowner.value,
    );
    near(
      shareOf((c) => !c.tells('drain.condition')),
      hardAtHome['drain.condition']!.value,
    );
  });

  test('find a right repair working at the first go as often as the folder says', () => {
    near(
      shareOf((c) => c.works('clean-gasket')),
      knowledge.costs.repairWorks,
    );
  });

  test('see one fact in both of its witnesses, far more often than by chance', () => {
    const both = (c: (typeof callers)[number]): boolean =>
      c.shows('drain.refroze') === 'again' && c.shows('repair.already-done') === 'drain';
    const apart =
      shareOf((c) => c.shows('drain.refroze') === 'again') * shareOf((c) => c.shows('repair.already-done') === 'drain');
    expect(shareOf(both)).toBeGreaterThan(2 * apart);
  });
});

describe('a model that is not ours', () => {
  test('is ours where the noise is none', () => {
    const same = modelOf(otherModel(knowledge, 0, drawsOf(1)));
    model.prior.forEach((p, h) => expect(same.prior[h]).toBeCloseTo(p, 12));
    for (const step of knowledge.steps.values())
      model
        .chances(step)
        .forEach((row, v) => row.forEach((p, h) => expect(same.chances(step)[v]![h]).toBeCloseTo(p, 12)));
  });

  test('keeps chances that sum to 1, and has other shares, minutes and likelihoods', () => {
    const other = otherModel(knowledge, 0.5, drawsOf(1));
    expect(modelOf(other).prior.reduce((s, p) => s + p, 0)).toBeCloseTo(1, 12);
    for (const [id, { table, many }] of other.steps)
      for (const row of many || !table ? [] : table.rows) {
        expect(row.reduce((s, p) => s + p, 0)).toBeCloseTo(1, 12);
        expect(row, id).not.toEqual(knowledge.steps.get(id)?.table?.base);
      }
    expect(other.costs.handOver).not.toEqual(knowledge.costs.handOver);
    expect(other.faults.get('drain-iced')?.share).not.toEqual(knowledge.faults.get('drain-iced')?.share);
  });

  // mean and spread of the noise: a standard normal number has 0 and 1
  test('is off by noise of the width that was asked for', () => {
    const random = drawsOf(2);
    const drawn = Array.from({ length: 4000 }, () => normal(random));
    const mean = drawn.reduce((s, x) => s + x, 0) / drawn.length;
    expect(Math.abs(mean)).toBeLessThan(0.08);
    expect(drawn.reduce((s, x) => s + (x - mean) ** 2, 0) / drawn.length).toBeCloseTo(1, 0);
  });
});

test('a share finds its place among weights', () => {
  expect([0, 0.49, 0.5, 0.74, 0.75, 1].map((share) => placeOf([2, 1, 1], share))).toEqual([0, 0, 1, 1, 2, 2]);
});
