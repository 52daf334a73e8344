import { describe, expect, test } from 'vitest';
import { modelOf } from '../../src/diagnosis/model.js';
import { decisionsFor, type Decision } from '../../src/diagnosis/remedies.js';
import { realKnowledge } from '../support/knowledge.js';

const knowledge = realKnowledge();
const model = modelOf(knowledge);
const alone = (fault: string): number => model.hypotheses.findIndex((h) => h.b < 0 && model.faults[h.a] === fault);

describe.each(['homeowner', 'technician'] as const)('what a %s can be told', (words) => {
  const decisions = decisionsFor(knowledge, model, words);
  const cost = (d: Decision, fault: string): number => d.loss[alone(fault)] ?? NaN;

  test('is each remedy once, and handing over', () => {
    const remedies = [...knowledge.faults.values()].filter((f) => f.concludable).map((f) => f.repair[words].remedy);
    expect(new Set(decisions.map((d) => d.remedy))).toEqual(new Set([null, ...remedies]));
    expect(decisions).toHaveLength(new Set(remedies).size + 1);
    expect(decisionsFor(knowledge, model, words)).toBe(decisions);
  });

  test('costs least where it is what the fault needs', () => {
    for (const { id, concludable } of knowledge.faults.values()) {
      if (!concludable) continue;
      const least = Math.min(...decisions.map((d) => cost(d, id)));
      const right = decisions.find((d) => d.mends[model.faults.indexOf(id)]);
      expect(right && cost(right, id), id).toBe(least);
    }
  });

  test('is no more what was done in vain: trying the next thing costs as much as handing over besides', () => {
    const left = decisionsFor(knowledge, model, words, ['manual-defrost']);
    expect(left.map((d) => d.remedy)).not.toContain('manual-defrost');
    const other = left.find((d) => d.remedy === 'clean-gasket')!;
    const { own, wrong } = other;
    expect(cost(other, 'normal-frost')).toBe(own + wrong + knowledge.costs.handOver[words]);
    const known = knowledge.costs.remedy('manual-defrost', words);
    expect(
      cost(
        decisions.find((d) => d.remedy === 'clean-gasket')!,
        'normal-frost',
      ),
    ).toBe(own + wrong + known);
  });

  test('of two causes leaves only the other once the one was seen to', () => {
    const [done, other] = ['normal-frost', 'gasket-dirty'].map((id) => model.faults.indexOf(id));
    const pair = model.hypotheses.findIndex((h) => [h.a, h.b].includes(done ?? -2) && [h.a, h.b].includes(other ?? -2));
    const left = decisionsFor(knowledge, model, words, ['manual-defrost']).find((d) => d.remedy === 'clean-gasket')!;
    expect(pair).toBeGreaterThanOrEqual(0);
    expect(left.loss[pair]).toBe(left.own);
  });

  test('never is a remedy for a cause that is not in the folder', () => {
    for (const d of decisions) expect(d.mends[model.faults.indexOf('something-else')]).toBe(false);
  });

  test('costs dearly where it keeps a fault of the sealed circuit from a certified technician', () => {
    for (const fault of knowledge.faults.values())
      if (fault.licensed)
        for (const d of decisions)
          if (d.remedy !== null && !d.mends[model.faults.indexOf(fault.id)])
            expect(cost(d, fault.id), `${d.remedy} for ${fault.id}`).toBeGreaterThan(knowledge.costs.licensedMissed);
  });

  test('is a number for every hypothesis, and a pair costs at least what its cheaper half does', () => {
    for (const d of decisions)
      model.hypotheses.forEach(({ a, b }, h) => {
        const own = d.loss[h] ?? NaN;
        expect(Number.isFinite(own) && own > 0).toBe(true);
        if (b < 0) return;
        const halves = [a, b].map((i) => d.loss[alone(model.faults[i] ?? '')] ?? NaN);
        expect(own).toBeGreaterThanOrEqual(Math.min(...halves) - 1e-9);
      });
  });
});
