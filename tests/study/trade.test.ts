import { describe, expect, test } from 'vitest';
import { modelOf } from '../../src/diagnosis/model.js';
import { numbersFrom } from '../../src/diagnosis/seeded.js';
import { drawCaller, play } from '../../src/study/trade.js';
import { tradePlays, tradeStudy } from '../../src/study/trade-study.js';
import { realKnowledge } from '../support/knowledge.js';

const knowledge = realKnowledge();
const model = modelOf(knowledge);

describe('made-up callers', () => {
  test('have each cause as often as the model says', () => {
    const random = numbersFrom(5);
    const count = 1500;
    const seen = new Float64Array(model.prior.length);
    for (let i = 0; i < count; i += 1) {
      const { cause } = drawCaller(knowledge, random, 0);
      seen[cause] = seen[cause]! + 1 / count;
    }
    // five standard deviations of a share
    seen.forEach((share, h) => {
      const p = model.prior[h]!;
      expect(Math.abs(share - p)).toBeLessThan(5 * Math.sqrt((p * (1 - p)) / count) + 1 / count);
    });
  });

  test('answer with a value of the step, the same each time', () => {
    const caller = drawCaller(knowledge, numbersFrom(5), 0.5);
    for (const step of knowledge.steps.values()) {
      expect(step.values).toContain(caller.answer(step));
      expect(caller.answer(step)).toBe(caller.answer(step));
    }
  });

  test('pay what the decision costs under their cause when nothing is asked', () => {
    const caller = drawCaller(knowledge, numbersFrom(9), 0);
    for (const words of ['technician', 'homeowner'] as const) {
      const played = play(knowledge, words, caller, ({ decisions }) => decisions.at(-1)!);
      expect(played).toMatchObject({ minutes: knowledge.costs.handOver[words], questions: 0, right: false });
      expect(played.handedOver).toBe(true);
    }
  });
});

test('the same seed gives the same figures, and every caller is told', () => {
  let seen = 0;
  const rows = tradeStudy(knowledge, 1, 3, () => (seen += 1));
  expect(seen).toBe(tradePlays(1));
  expect(tradeStudy(knowledge, 1, 3, () => undefined)).toEqual(rows);
});
