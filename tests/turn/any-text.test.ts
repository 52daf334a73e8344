import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { runs, tried } from '../support/runs.js';
import { talk } from './a-talk.js';

const LONGEST = 4000;

test('any text of Unicode gets an answer, with words to read', { timeout: runs(1).timeout }, () => {
  let count = 0;
  const { numRuns, seed } = runs(40);
  fc.assert(
    fc.property(fc.string({ unit: 'binary', minLength: 1, maxLength: LONGEST, size: 'max' }), (text) => {
      const said = text.trim().slice(0, LONGEST);
      fc.pre(said.length > 0);
      count += 1;
      expect(talk().says(said).reply.length).toBeGreaterThan(0);
    }),
    { numRuns, seed },
  );
  tried('texts of any Unicode', count);
});
