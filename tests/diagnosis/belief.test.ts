import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { newCase, type CaseState } from '../../src/case/state.js';
import { beliefOf, likelyPairs, ranking, type Belief, type Factor } from '../../src/diagnosis/belief.js';
import { byGroup, evidenceOf, together, type Observation } from '../../src/diagnosis/evidence.js';
import { modelOf, type Model } from '../../src/diagnosis/model.js';
import { observe, repairFactors } from '../../src/diagnosis/observe.js';
import type { Knowledge } from '../../src/knowledge/facts.js';
import { realKnowledge } from '../support/knowledge.js';
import { invented } from './invented.js';
import { byLibrary, type Network } from './network.js';

const AT = '2026-11-25T10:00:00Z';
const saw = (step: string, value: string, more: Partial<Observation> = {}): Observation => ({
  step,
  value,
  present: true,
  weights: null,
  confidence: 1,
  ...more,
});
const weighed = (step: string, weights: readonly number[]): Observation => saw(step, '', { value: null, weights });

function believed(knowledge: Knowledge, observations: readonly Observation[], factors: readonly Factor[] = []): Belief {
  const model = modelOf(knowledge);
  return beliefOf(model, evidenceOf(knowledge, model, observations), factors);
}
function ranked(
  knowledge: Knowledge,
  observations: readonly Observation[],
  factors: readonly Factor[] = [],
): (fault: string) => number {
  const list = ranking(modelOf(knowledge), believed(knowledge, observations, factors));
  return (fault) => list.find((r) => r.fault === fault)?.probability ?? NaN;
}
const odds = (p: number): number => p / (1 - p);

describe('two faults at once', () => {
  // A leaky noisy-OR (J. Pearl 1988; M. Henrion 1989): each cause present fails to show with a chance of its own, and
  // something else shows with the rate of the base row. The library is given the inhibitors one by one.
  test.each([
    [0.3, 0.2, 0.9],
    [0.05, 0.6, 0.95],
    [0.5, 0.5, 0.5],
    [0.0001, 0.9, 0.99],
  ])('a sound value of chance %d under one, %d under the other and %d without', (one, two, base) => {
    const knowledge = invented({
      faults: [
        { id: 'a', share: 50 },
        { id: 'b', share: 50 },
      ],
      steps: [
        {
          id: 'shows',
          values: ['sound', 'bad'],
          healthy: 'sound',
          base: [base, 1 - base],
          rows: [
            [one, 1 - one],
            [two, 1 - two],
          ],
        },
      ],
    });
    const model = modelOf(knowledge);
    const pair = model.hypotheses.findIndex((h) => h.b >= 0);
    const [sound, bad] = model.chances(knowledge.steps.get('shows') as never).map((row) => row[pair] ?? NaN) as [
      number,
      number,
    ];

    const inhibited: Network = [
      { id: 'a', parents: [], yes: [0.5] },
      { id: 'b', parents: [], yes: [0.5] },
      { id: 'leak', parents: [], yes: [1 - base] },
      { id: 'by-a', parents: ['a'], yes: [1 - one / base, 0] },
      { id: 'by-b', parents: ['b'], yes: [1 - two / base, 0] },
      { id: 'shown', parents: ['by-a', 'by-b', 'leak'], yes: [1, 1, 1, 1, 1, 1, 1, 0] },
    ];
    expect(sound).toBeCloseTo(1 - byLibrary(inhibited, 'shown', { a: true, b: true }), 9);
    expect(sound + bad).toBeCloseTo(1, 12);
  });

  test('each may bring its own departure, so that each one seen leaves the pair likelier', () => {
    const knowledge = invented({
      faults: [
        { id: 'a', share: 45 },
        { id: 'b', share: 45 },
        { id: 'else', share: 10, alone: true },
      ],
      steps: [
        { id: 'one', values: ['sound', 'bad'], healthy: 'sound', base: [0.95, 0.05], rows: [[0.1, 0.9], null, null] },
        { id: 'two', values: ['sound', 'bad'], healthy: 'sound', base: [0.95, 0.05], rows: [null, [0.1, 0.9], null] },
      ],
      costs: { pairs: 0.1 },
    });
    const pairOf = (...seen: Observation[]): number =>
      likelyPairs(modelOf(knowledge), believed(knowledge, seen), 0)[0]?.probability ?? NaN;
    expect(pairOf(saw('one', 'bad'))).toBeGreaterThan(pairOf());
    expect(pairOf(saw('one', 'bad'), saw('two', 'bad'))).toBeGreaterThan(pairOf(saw('one', 'bad')));
    expect(pairOf(saw('one', 'bad'), saw('two', 'sound'))).toBeLessThan(pairOf(saw('one', 'bad')));
  });

  // By hand: priors a 0.6, b 0.3, both 0.6 * 0.3 * 0.5 = 0.09, of 0.99; bad is 0.8, 0.5 and 1 - 0.2 * 0.5 / 0.9 = 8/9.
  test('a posterior worked by hand', () => {
    const knowledge = invented({
      faults: [
        { id: 'a', share: 60 },
        { id: 'b', share: 30 },
      ],
      steps: [
        {
          id: 's',
          values: ['sound', 'bad'],
          healthy: 'sound',
          base: [0.9, 0.1],
          rows: [
            [0.2, 0.8],
            [0.5, 0.5],
          ],
        },
      ],
      costs: { pairs: 0.5 },
    });
    const joint = [0.6 * 0.8, 0.3 * 0.5, 0.09 * (1 - (0.2 * 0.5) / 0.9)];
    const total = joint.reduce((s, p) => s + p, 0);
    const p = ranked(knowledge, [saw('s', 'bad')]);
    const [a = 0, b = 0, both = 0] = joint.map((x) => x / total);
    expect(p('a')).toBeCloseTo(a + both / 2, 12);
    expect(p('b')).toBeCloseTo(b + both / 2, 12);
    expect(likelyPairs(modelOf(knowledge), believed(knowledge, [saw('s', 'bad')]), 0.05)).toEqual([
      { faults: ['a', 'b'], probability: expect.closeTo(both, 12) },
    ]);
  });

  test('in the real folder every row of a pair is a distribution, and no sounder than its sounder fault', () => {
    const knowledge = realKnowledge();
    const model = modelOf(knowledge);
    for (const step of knowledge.steps.values()) {
      if (!step.table) continue;
      const rows = model.chances(step);
      model.hypotheses.forEach(({ a, b }, h) => {
        const values = rows.map((row) => row[h] ?? NaN);
        if (values.some((p) => !(p > 0 && p <= 1))) throw new Error(`${step.id} under ${h}: ${values.join(' ')}`);
        if (!step.many && Math.abs(values.reduce((s, p) => s + p, 0) - 1) > 1e-9)
          throw new Error(`${step.id} under ${h} does not sum to 1`);
        const [one, two] = [a, b].map((i) => step.table?.rows[i]?.[step.healthy] ?? 0) as [number, number];
        if (
          b >= 0 &&
          step.kind === 'symptom' &&
          step.healthy >= 0 &&
          (values[step.healthy] ?? 1) > Math.max(one, two) + 1e-9
        )
          throw new Error(`${step.id} is sounder under two faults than under either`);
      });
    }
  });
});

describe('an observation', () => {
  const knowledge = invented({
    faults: [
      { id: 'a', share: 70, alone: true },
      { id: 'b', share: 30, alone: true },
    ],
    steps: [
      {
        id: 'v',
        values: ['x', 'y', 'z'],
        base: [0.5, 0.3, 0.2],
        rows: [
          [0.7, 0.2, 0.1],
          [0.1, 0.1, 0.8],
        ],
      },
      {
        id: 'm',
        values: ['x', 'y'],
        many: true,
        base: [0.5, 0.5],
        rows: [
          [0.9, 0.2],
          [0.3, 0.6],
        ],
      },
    ],
  });
  const bayes = (a: number, b: number): number => (0.7 * a) / (0.7 * a + 0.3 * b);

  test('of one value multiplies by its chance', () => {
    expect(ranked(knowledge, [saw('v', 'z')])('a')).toBeCloseTo(bayes(0.1, 0.8), 12);
  });

  test('of a value ruled out multiplies by the chance of the others', () => {
    expect(ranked(knowledge, [saw('v', 'z', { present: false })])('a')).toBeCloseTo(bayes(0.9, 0.2), 12);
  });

  // Pearl's virtual evidence: only the ratios of the weights count.
  test('of a reading weighs each state by how likely it makes the value', () => {
    expect(ranked(knowledge, [weighed('v', [1, 0.5, 0.1])])('a')).toBeCloseTo(
      bayes(0.7 + 0.1 + 0.01, 0.1 + 0.05 + 0.08),
      12,
    );
    expect(ranked(knowledge, [weighed('v', [10, 5, 1])])('a')).toBeCloseTo(
      ranked(knowledge, [weighed('v', [1, 0.5, 0.1])])('a'),
      12,
    );
    expect(ranked(knowledge, [weighed('v', [1, 1, 1])])('a')).toBeCloseTo(0.7, 12);
  });

  test('where several values may hold, counts each by itself', () => {
    expect(ranked(knowledge, [saw('m', 'x'), saw('m', 'y')])('a')).toBeCloseTo(bayes(0.9 * 0.2, 0.3 * 0.6), 12);
    expect(ranked(knowledge, [saw('m', 'x', { present: false })])('a')).toBeCloseTo(bayes(0.1, 0.7), 12);
  });

  test('less sure moves the belief less, and not at all when it is no more than a guess', () => {
    const at = (confidence: number): number => ranked(knowledge, [saw('v', 'z', { confidence })])('b');
    expect(at(1)).toBeGreaterThan(at(0.6));
    expect(at(0.6)).toBeGreaterThan(0.3);
    expect(at(0)).toBeCloseTo(0.3, 12);
    expect(at(0.6)).toBeCloseTo(1 - bayes(0.6 * (0.1 / 0.2) + 0.4, 0.6 * (0.8 / 0.2) + 0.4), 12);
  });

  test('of a step that is not in the folder, or has no table, says nothing', () => {
    expect(evidenceOf(knowledge, modelOf(knowledge), [saw('nowhere', 'x')])).toEqual([]);
  });
});

describe('one fact witnessed twice', () => {
  const small = (repeatedWitness: number): Knowledge =>
    invented({
      faults: [
        { id: 'a', share: 50, alone: true },
        { id: 'b', share: 50, alone: true },
      ],
      steps: ['one', 'two', 'other'].map((id) => ({
        id,
        values: ['x', 'y'],
        base: [0.5, 0.5],
        rows: [
          [0.8, 0.2],
          [0.2, 0.8],
        ],
      })),
      witnesses: {
        same: [
          { step: 'one', values: null },
          { step: 'two', values: null },
        ],
      },
      costs: { repeatedWitness },
    });

  test('counts once, and a second time by no more than the folder says', () => {
    const logOdds = (repeated: number, ...seen: Observation[]): number =>
      Math.log(odds(ranked(small(repeated), seen)('a')));
    const once = Math.log(4);
    expect(logOdds(0.2, saw('one', 'x'))).toBeCloseTo(once, 12);
    expect(logOdds(0.2, saw('one', 'x'), saw('two', 'x'))).toBeCloseTo(once * 1.2, 12);
    expect(logOdds(0, saw('one', 'x'), saw('two', 'x'))).toBeCloseTo(once, 12);
    expect(logOdds(0.2, saw('one', 'x'), saw('other', 'x'))).toBeCloseTo(once * 2, 12);
  });

  test('that contradicts itself counts both ways', () => {
    expect(ranked(small(0.2), [saw('one', 'x'), saw('two', 'y')])('a')).toBeCloseTo(0.5, 12);
  });

  test('in the real folder: no second witness moves a hypothesis by more than a share of what it would alone', () => {
    const knowledge = realKnowledge();
    const model = modelOf(knowledge);
    let pairs = 0;
    for (const members of knowledge.witnesses.values()) {
      const seen = members.flatMap(({ step, values }) =>
        (values ?? knowledge.steps.get(step)?.values ?? []).map((v) => saw(step, v)),
      );
      const items = [...byGroup(evidenceOf(knowledge, model, seen)).values()].flat();
      items.forEach((x, i) => {
        for (const y of items.slice(i + 1)) {
          const [one, two] = [x.logRatio, y.logRatio];
          if (one.reduce((s, v, h) => s + (model.prior[h] ?? 0) * v * (two[h] ?? 0), 0) <= 0) continue;
          pairs += 1;
          together([x, y], model.prior, model.repeated).forEach((total, h) => {
            const strongest = Math.max(Math.abs(one[h] ?? 0), Math.abs(two[h] ?? 0));
            if (Math.abs(total) > strongest * (1 + model.repeated) + 1e-9) throw new Error('a fact was counted twice');
          });
        }
      });
    }
    expect(pairs).toBeGreaterThan(30);
  });
});

describe('in the real folder', () => {
  const knowledge = realKnowledge();
  const model = modelOf(knowledge);
  const observation: fc.Arbitrary<Observation> = fc
    .constantFrom(...[...knowledge.steps.values()].filter((s) => s.table))
    .chain((step) =>
      step.about === 'reading'
        ? fc
            .array(fc.double({ min: 0.001, max: 1, noNaN: true }), {
              minLength: step.values.length,
              maxLength: step.values.length,
            })
            .map((w) => weighed(step.id, w))
        : fc.record({
            step: fc.constant(step.id),
            value: fc.constantFrom(...step.values),
            present: fc.boolean(),
            weights: fc.constant(null),
            confidence: fc.constantFrom(1, 0.9, 0.6),
          }),
    );
  // as in a case: a reading once, a value once
  const observations = fc.uniqueArray(observation, {
    maxLength: 40,
    size: 'max',
    selector: ({ step, value }) => `${step} ${value}`,
  });
  const whole = (belief: Belief, of: Model = model): void => {
    const list = ranking(of, belief);
    expect(list.reduce((s, r) => s + r.probability, 0)).toBeCloseTo(1, 9);
    expect(list.every((r) => r.probability >= 0 && r.probability <= 1)).toBe(true);
    expect(list.map((r) => r.fault).sort()).toEqual([...of.faults].sort());
    list.forEach((r, i) => expect(r.probability).toBeLessThanOrEqual(list[i - 1]?.probability ?? 1));
  };

  test('nothing known leaves the shares of the folder, pairs aside', () => {
    whole(believed(knowledge, []));
    const p = ranked(knowledge, []);
    for (const [id, { share }] of knowledge.faults) expect(Math.abs(p(id) - share.value / 100), id).toBeLessThan(0.02);
  });

  test('any evidence, however it contradicts itself, leaves a ranking of all faults that sums to one', () => {
    fc.assert(
      fc.property(observations, (seen) => whole(believed(knowledge, seen))),
      { numRuns: 200 },
    );
  });

  test('the order in which items came does not matter, one value a step', () => {
    const once = fc.uniqueArray(observation, { maxLength: 40, size: 'max', selector: (o) => o.step });
    const shuffled = once.chain((seen) =>
      fc.tuple(fc.constant(seen), fc.shuffledSubarray(seen, { minLength: seen.length })),
    );
    fc.assert(
      fc.property(shuffled, ([one, two]) => {
        const [p, q] = [believed(knowledge, one).p, believed(knowledge, two).p];
        p.forEach((x, h) => expect(Math.abs(x - (q[h] ?? NaN))).toBeLessThan(1e-9));
      }),
      { numRuns: 150 },
    );
  });

  // Two values of one finding that stand in the same group of witnesses are taken in the order they were said in.
  test('nor does the order in which two values of one finding were said', () => {
    for (const f of knowledge.findings.values())
      for (const one of f.many ? f.values : [])
        for (const two of f.values.filter((v) => v > one)) {
          const p = believed(knowledge, [saw(f.id, one), saw(f.id, two)]).p;
          const q = believed(knowledge, [saw(f.id, two), saw(f.id, one)]).p;
          p.forEach((x, h) => expect(Math.abs(x - (q[h] ?? NaN)), `${f.id} ${one} ${two}`).toBeLessThan(1e-9));
        }
  });

  test('every value of every step at once is survived', () => {
    const all = [...knowledge.steps.values()].flatMap((s) => s.values.map((v) => saw(s.id, v)));
    whole(believed(knowledge, all));
    whole(believed(knowledge, [...all, ...all, ...all]));
  });
});

test('evidence that no hypothesis allows is survived: nothing is not a number, and nothing is forgotten', () => {
  const knowledge = invented({
    faults: [
      { id: 'a', share: 50, alone: true },
      { id: 'b', share: 50, alone: true },
    ],
    steps: [
      {
        id: 'p',
        values: ['x', 'y'],
        base: [0.5, 0.5],
        rows: [
          [1, 0],
          [0, 1],
        ],
      },
      {
        id: 'q',
        values: ['x', 'y'],
        base: [0.5, 0.5],
        rows: [
          [0, 1],
          [1, 0],
        ],
      },
      {
        id: 'r',
        values: ['x', 'y'],
        base: [0.5, 0.5],
        rows: [
          [0.9, 0.1],
          [0.1, 0.9],
        ],
      },
    ],
  });
  const p = ranked(knowledge, [saw('p', 'x'), saw('q', 'x'), saw('r', 'x')]);
  expect(p('a')).toBeCloseTo(0.9, 9);
  expect(p('b')).toBeCloseTo(0.1, 9);
});

describe('readings that exclude each other', () => {
  const knowledge = invented({
    faults: [
      { id: 'a', share: 50, alone: true },
      { id: 'b', share: 50, alone: true },
    ],
    steps: [
      {
        id: 'r',
        values: ['x', 'y'],
        base: [0.5, 0.5],
        rows: [
          [0.9, 0.1],
          [0.1, 0.9],
        ],
      },
    ],
  });

  // Two readings of one thing, each certain of another state: their product is nothing at all.
  test('leave a ranking', () => {
    const seen = observe({ ...knowledge, findings: new Map() }, newCase(AT, 'technician'), [
      { step: 'r', weights: [1, 0] },
      { step: 'r', weights: [0, 1] },
    ]);
    expect(ranked(knowledge, seen)('a')).toBeCloseTo(0.5, 9);
  });
});

describe('a repair that did not help', () => {
  const knowledge = realKnowledge();
  const model = modelOf(knowledge);
  const after = (remedy: string, words: 'homeowner' | 'technician', better: boolean): CaseState => ({
    ...newCase(AT, words),
    failed: [{ remedy, words, better }],
  });
  const remedies = (['homeowner', 'technician'] as const).flatMap((words) =>
    [...new Set([...knowledge.faults.values()].map((f) => f.repair[words].remedy))].map((remedy) => ({
      words,
      remedy,
    })),
  );
  const mended = (remedy: string, words: 'homeowner' | 'technician'): string[] =>
    [...knowledge.faults.values()].filter((f) => f.repair[words].remedy === remedy).map((f) => f.id);

  test.each(remedies)(
    '$remedy ($words) lowers every fault it would have mended, and raises the others',
    ({ remedy, words }) => {
      const before = ranked(knowledge, []);
      const p = ranked(knowledge, [], repairFactors(knowledge, model, after(remedy, words, false)));
      const own = mended(remedy, words);
      for (const fault of model.faults) {
        if (own.includes(fault)) expect(p(fault), fault).toBeLessThan(before(fault) * 0.5);
        else expect(p(fault), fault).toBeGreaterThanOrEqual(before(fault) * 0.95);
      }
    },
  );

  test('but helped a little makes a second fault beside it likelier', () => {
    const remedy = 'clean-gasket';
    const pairs = (better: boolean): number => {
      const belief = believed(knowledge, [], repairFactors(knowledge, model, after(remedy, 'homeowner', better)));
      const own = new Set(mended(remedy, 'homeowner'));
      return model.hypotheses.reduce((sum, { a, b }, h) => {
        const faults = [a, b].map((i) => own.has(model.faults[i] ?? ''));
        return b >= 0 && faults[0] !== faults[1] ? sum + (belief.p[h] ?? 0) : sum;
      }, 0);
    };
    expect(pairs(true)).toBeGreaterThan(3 * pairs(false));
  });

  // Bayes by hand: the remedy works nine times in ten, so the odds of a fault that it mends fall to a tenth.
  test('counts by how often it works', () => {
    const small = invented({
      faults: [
        { id: 'a', share: 50, alone: true },
        { id: 'b', share: 50, alone: true },
      ],
      steps: [],
      costs: { repairWorks: 0.9 },
    });
    const p = ranked(small, [], [({ a }) => (a === 0 ? 1 - small.costs.repairWorks : 1)]);
    expect(odds(p('a'))).toBeCloseTo(0.1, 12);
  });
});
