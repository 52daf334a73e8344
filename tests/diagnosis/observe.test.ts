import { describe, expect, test } from 'vitest';
import { observe, type Weighed } from '../../src/diagnosis/observe.js';
import { NEEDED_FINDINGS as F } from '../../src/knowledge/named.js';
import { realKnowledge } from '../support/knowledge.js';
import { known, type Known } from './a-state.js';

const knowledge = realKnowledge();
const seen = (state: Known, readings: readonly Weighed[] = []): string[] =>
  observe(knowledge, known(state), readings).map(
    (o) =>
      `${o.present ? '' : 'not '}${o.step} ${o.value ?? o.weights?.join(' ') ?? ''}${o.confidence === 1 ? '' : ` (${o.confidence})`}`,
  );

describe('a fact becomes an observation', () => {
  test('with its value and how sure it is', () => {
    expect(seen({ facts: { 'door.closes-fully': 'no' }, confidence: 0.6 })).toEqual(['door.closes-fully no (0.6)']);
  });

  test('one for each value where several hold', () => {
    expect(seen({ facts: { 'frost.location': ['door-edge', 'freezer-floor'] } })).toEqual([
      'frost.location door-edge',
      'frost.location freezer-floor',
    ]);
  });

  test('one for each value that was ruled out', () => {
    expect(
      seen({ denied: { 'frost.location': ['door-edge'], 'cooling.freezer': ['normal', 'too-cold'] } }).sort(),
    ).toEqual(['not cooling.freezer normal', 'not cooling.freezer too-cold', 'not frost.location door-edge']);
  });
});

describe('a fact that tells nothing is left out', () => {
  test('not sure', () => {
    expect(seen({ facts: { 'door.closes-fully': null } })).toEqual([]);
  });

  test('a finding without a table', () => {
    expect(seen({ facts: { [F.power]: 'off', [F.canMeasure]: 'yes' } })).toEqual([]);
  });

  test('a finding that the folder does not have', () => {
    expect(seen({ facts: { 'door.colour': 'red' } })).toEqual([]);
  });

  test('what only the cold shows, within a day of a thaw', () => {
    const cold = [...knowledge.findings.values()].filter((f) => f.needs.cold && f.table);
    expect(cold.length).toBeGreaterThan(0);
    for (const f of cold) {
      const value = f.values[0] ?? '';
      const counts = (thawed: string | null): boolean =>
        seen({ facts: { [F.thawed]: thawed, [f.id]: value } }).some((o) => o.startsWith(f.id));
      expect(counts('under-a-day'), f.id).toBe(false);
      expect(counts('days-ago'), f.id).toBe(true);
      expect(counts(null), f.id).toBe(true);
    }
  });
});

describe('readings', () => {
  const step = 'defrost-heater.continuity';

  test('become the weights of their states, the largest 1', () => {
    expect(seen({}, [{ step, weights: [0.1, 0.4] }])).toEqual([`${step} 0.25 1`]);
  });

  test('of one thing speak together', () => {
    expect(
      seen({}, [
        { step, weights: [1, 0.5] },
        { step, weights: [0.5, 1] },
      ]),
    ).toEqual([`${step} 0.5 0.5`]);
  });

  test('that tell nothing are left out', () => {
    expect(seen({}, [{ step, weights: null }])).toEqual([]);
    expect(
      seen({}, [
        { step, weights: null },
        { step, weights: [1, 0.5] },
      ]),
    ).toEqual([`${step} 1 0.5`]);
  });
});
