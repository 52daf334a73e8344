// A linear reader learns what its lessons show, the same each time, and is kept without loss of what it decides.
import { describe, expect, test } from 'vitest';
import { learn, type Lesson } from '../../src/understand/linear.js';
import { packed, unpacked } from '../../src/understand/packed.js';

const lessons: Lesson[] = ['a', 'b', 'c', 'd', 'e', 'f'].flatMap((own) => [
  { traits: ['seal', 'torn', own], labels: ['gasket=torn'] },
  { traits: ['seal', 'dirty', own], labels: ['gasket=dirty'] },
  { traits: ['seal', 'torn', 'dirty'], labels: ['gasket=torn', 'gasket=dirty'] },
  { traits: ['peas', own], labels: [] },
]);

const weight = (learnt: ReturnType<typeof learn>, trait: string, label: string): number => {
  const t = learnt.traits.indexOf(trait);
  const at = learnt.labels.indexOf(label);
  if (t < 0) return 0;
  for (let i = learnt.starts[t] ?? 0; i < (learnt.starts[t + 1] ?? 0); i += 1)
    if (learnt.at[i] === at) return learnt.weight[i] ?? 0;
  return 0;
};

describe('what is learnt', () => {
  const learnt = learn(lessons);

  test('a trait speaks for the label it came with, and for no other', () => {
    expect(weight(learnt, 'torn', 'gasket=torn')).toBeGreaterThan(1);
    expect(weight(learnt, 'dirty', 'gasket=dirty')).toBeGreaterThan(1);
    expect(weight(learnt, 'torn', 'gasket=dirty')).toBeLessThan(weight(learnt, 'dirty', 'gasket=dirty') / 2);
    expect(weight(learnt, 'peas', 'gasket=torn')).toBeLessThanOrEqual(0);
  });

  test('the same lessons teach the same', () => {
    expect(learn(lessons)).toEqual(learnt);
  });

  test('a trait that stands in one lesson only is not learnt', () => {
    const once = learn([...lessons, { traits: ['seal', 'torn', 'only-here'], labels: ['gasket=torn'] }]);
    expect(once.traits).not.toContain('only-here');
  });
});

describe('kept and read again', () => {
  test('labels and traits are the same, weights to a fortieth', () => {
    const learnt = learn(lessons);
    const again = unpacked(JSON.parse(JSON.stringify(packed(learnt))));
    expect(again?.labels).toEqual(learnt.labels);
    expect(again?.traits).toEqual(learnt.traits);
    expect(again?.starts).toEqual(learnt.starts);
    expect(again?.at).toEqual(learnt.at);
    learnt.weight.forEach((w, i) => expect(Math.abs((again?.weight[i] ?? NaN) - w)).toBeLessThanOrEqual(0.0251));
  });

  test.each([null, 'x', {}, { form: 0 }])('%j is nothing that was kept', (kept) => {
    expect(unpacked(kept)).toBeNull();
  });
});
