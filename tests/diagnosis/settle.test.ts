import { expect, test } from 'vitest';
import { modelOf } from '../../src/diagnosis/model.js';
import { decisionsFor } from '../../src/diagnosis/remedies.js';
import { settle } from '../../src/diagnosis/settle.js';
import { realKnowledge } from '../support/knowledge.js';

const knowledge = realKnowledge();
const model = modelOf(knowledge);
const decisions = decisionsFor(knowledge, model, 'homeowner');

/** What is done at home where the planner would take this remedy, by what is believed. */
function settled(remedy: string, believed: Readonly<Record<string, number>>): [string | null, string] {
  const ranked = Object.entries(believed).map(([fault, probability]) => ({ fault, probability }));
  const planned = decisions.find((d) => d.remedy === remedy)!;
  const { decision, fault } = settle(knowledge, model, ranked, 'homeowner', decisions, planned);
  return [decision.remedy, fault];
}

test('a visit is named for a cause that is sure enough', () => {
  expect(settled('visit-gasket', { 'gasket-failed': 0.7, 'gasket-dirty': 0.3 })).toEqual([
    'visit-gasket',
    'gasket-failed',
  ]);
});

test('a visit for a cause that is hardly likelier than others is a hand-over', () => {
  const believed = { 'gasket-failed': 0.3, 'gasket-dirty': 0.25, 'drain-iced': 0.25, 'vents-blocked': 0.2 };
  expect(settled('visit-gasket', believed)[0]).toBeNull();
});

test('unless something likely can be done without one', () => {
  expect(settled('visit-gasket', { 'gasket-dirty': 0.65, 'gasket-failed': 0.35 })).toEqual([
    'clean-gasket',
    'gasket-dirty',
  ]);
});

test('what a person can do alone is done, however unsure', () => {
  expect(settled('clean-gasket', { 'drain-iced': 0.5, 'gasket-dirty': 0.2 })[0]).toBe('clean-gasket');
});
