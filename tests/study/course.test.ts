import { expect, test } from 'vitest';
import { piecesOf, study, type Workshop } from '../../src/study/course.js';
import { doJob, type Job } from '../../src/study/jobs.js';
import { realKnowledge } from '../support/knowledge.js';

const knowledge = realKnowledge();
const extent = { problems: 2, subModels: 2, beliefs: 2, callers: 2, training: 3, looks: 2 };

test('a small study: the same seed gives the same figures, every policy is told, and all of it is seen', async () => {
  let pieces = 0;
  const oneByOne =
    (seed: number): Workshop =>
    (jobs) =>
      Promise.resolve(jobs.map((job: Job) => doJob(knowledge, seed, job, (share) => (pieces += share)))) as never;
  const found = await study(extent, oneByOne(3));
  expect(pieces).toBeLessThanOrEqual(piecesOf(extent) + 1e-9);
  expect(pieces).toBeGreaterThan(0.8 * piecesOf(extent));
  expect(await study(extent, oneByOne(3))).toEqual(found);

  for (const { policies } of [...found.random, { policies: { ...found.subModels, capped: found.lookAhead } }])
    for (const { mean, worst } of Object.values(policies)) {
      expect(mean).toBeGreaterThanOrEqual(1 - 1e-9);
      expect(worst).toBeGreaterThanOrEqual(mean);
    }
  expect(found.dangers.sentences).toBeGreaterThan(300);
  expect(found.dangers.kept).toBe(0);
  expect(found.dangers.atMost).toBeLessThan(0.01);
  const random = (seed: number): unknown =>
    doJob(knowledge, seed, { kind: 'random', size: 0, from: 0, to: 2 }, () => undefined);
  expect(random(4)).not.toEqual(random(3));
  expect(found.groups).toHaveLength(4);
  for (const { policies, sealed } of found.groups) {
    expect(policies.map((p) => p.policy)).toContain('best-list');
    for (const { minutes, moreThanOurs } of policies)
      expect(minutes.mean - moreThanOurs.mean).toBeCloseTo(policies[0]!.minutes.mean, 9);
    expect(sealed.kept).toBe(0);
  }
});
