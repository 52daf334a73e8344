import { describe, expect, test } from 'vitest';
import { beliefOf } from '../../src/diagnosis/belief.js';
import { evidenceOf, type Observation } from '../../src/diagnosis/evidence.js';
import { conflicts, ruledOut } from '../../src/diagnosis/explain.js';
import { modelOf } from '../../src/diagnosis/model.js';
import type { Knowledge } from '../../src/knowledge/facts.js';
import { invented } from './invented.js';

const saw = (step: string, value: string): Observation => ({
  step,
  value,
  present: true,
  weights: null,
  confidence: 1,
});

/** Two causes, each with its own two signs; the third sign belongs to neither. */
const knowledge: Knowledge = invented({
  faults: [
    { id: 'heater', share: 50, alone: true },
    { id: 'door', share: 45, alone: true },
    { id: 'rare', share: 0.5, alone: true },
    { id: 'else', share: 4.5, alone: true },
  ],
  steps: [
    {
      id: 'cold-heater',
      values: ['yes', 'no'],
      base: [0.3, 0.7],
      rows: [[0.999, 0.001], [0.0005, 0.9995], null, null],
    },
    { id: 'iced-coil', values: ['yes', 'no'], base: [0.3, 0.7], rows: [[0.999, 0.001], [0.0005, 0.9995], null, null] },
    {
      id: 'gap',
      values: ['yes', 'no'],
      base: [0.1, 0.9],
      rows: [
        [0.001, 0.999],
        [0.9, 0.1],
        [0.001, 0.999],
        [0.001, 0.999],
      ],
    },
    { id: 'light', values: ['yes', 'no'], base: [0.5, 0.5], rows: [null, null, null, null] },
  ],
});
const model = modelOf(knowledge);
const evidence = (...seen: Observation[]) => evidenceOf(knowledge, model, seen);
const named = (o: Observation | null): string => (o ? `${o.step} ${o.value}` : 'nothing');

describe('what does not fit together', () => {
  const found = (...seen: Observation[]): string[] =>
    conflicts(model, evidence(...seen), []).map((c) => `${named(c.one)} against ${named(c.other)}`);

  test('is nothing where all signs speak for one cause', () => {
    expect(found(saw('cold-heater', 'yes'), saw('iced-coil', 'yes'), saw('light', 'yes'))).toEqual([]);
    expect(found(saw('gap', 'yes'), saw('cold-heater', 'no'))).toEqual([]);
    expect(found()).toEqual([]);
    expect(found(saw('gap', 'yes'))).toEqual([]);
  });

  test('is the sign that the rest makes improbable, with the one it would fit without', () => {
    const all = found(saw('cold-heater', 'yes'), saw('gap', 'yes'));
    expect(all).toHaveLength(1);
    expect(all[0]).toMatch(/^(?:gap yes against cold-heater yes|cold-heater yes against gap yes)$/);
  });

  test('leaves out what has no part in it', () => {
    expect(found(saw('light', 'yes'), saw('cold-heater', 'yes'), saw('gap', 'yes')).join()).not.toContain('light');
  });
});

describe('what was ruled out', () => {
  const limits = { below: 0.01, shareAbove: 0.01 };
  const out = (...seen: Observation[]): string[] => {
    const items = evidence(...seen);
    return ruledOut(model, items, beliefOf(model, items), limits).map((r) => `${r.fault}: ${named(r.because)}`);
  };

  test('is nothing as long as nothing is known', () => {
    expect(out()).toEqual([]);
  });

  test('is a cause that has become improbable, with the sign that spoke most against it', () => {
    expect(out(saw('light', 'no'), saw('cold-heater', 'no'))).toEqual(['heater: cold-heater no']);
  });

  test('is no cause that was hardly worth thinking of', () => {
    expect(out(saw('gap', 'yes'), saw('cold-heater', 'no')).join()).not.toContain('rare');
  });
});
