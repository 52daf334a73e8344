import { expect, test } from 'vitest';
import { oddsOf } from '../../src/handoff/odds.js';
import { realKnowledge } from '../support/knowledge.js';

// IPCC, Fourth Assessment Report, Working Group II, front matter F, "Description of likelihood": above 99 % virtually
// certain, 90 to 99 very likely, 66 to 90 likely, 33 to 66 about as likely as not, 10 to 33 unlikely, 1 to 10 very
// unlikely, below 1 % exceptionally unlikely.
test.each([
  [0.995, 'virtually certain'],
  [0.95, 'very likely'],
  [0.9, 'very likely'],
  [0.78, 'likely'],
  [0.5, 'about as likely as not'],
  [0.34, 'about as likely as not'],
  [0.2, 'unlikely'],
  [0.05, 'very unlikely'],
  [0.005, 'exceptionally unlikely'],
  [0, 'exceptionally unlikely'],
])('%d is "%s"', (probability, words) => {
  expect(realKnowledge().words.get(`page.odds.${oddsOf(probability)}`)?.technician).toBe(words);
});
