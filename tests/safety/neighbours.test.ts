/** One danger is not taken for another: the back wall is no hurt back. */
import { expect, test } from 'vitest';
import { listen } from '../../src/safety/listen.js';
import { realKnowledge } from '../support/knowledge.js';

const raised = (text: string): string[] => listen(realKnowledge(), text, 'homeowner').map((h) => h.hazard);

test('a burnt smell at the back with frost on the back wall is no injury', () => {
  const hazards = raised(
    'there is a burnt plastic smell behind the freezer and frost all over the back wall, milk is warm',
  );
  expect(hazards).toContain('burning-smell');
  expect(hazards).not.toContain('injury');
});

test.each(['I hurt my back pulling it out', 'my back is hurt', 'I burnt my hand on the back'])(
  '%s is an injury',
  (text) => {
    expect(raised(text)).toContain('injury');
  },
);

test.each([
  ['smoke is coming out of the back of the fridge', true],
  ['there are flames behind the freezer', true],
  ['I smell burning at the freezer', false],
])('%s: nothing is asked where there is smoke or fire', (text, silent) => {
  const heard = listen(realKnowledge(), text, 'homeowner').find((h) => h.hazard === 'burning-smell');
  expect(heard).toMatchObject({ level: 'stop', silent });
});
