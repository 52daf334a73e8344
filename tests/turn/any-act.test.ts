// What holds after every message, whatever was said, tapped, measured or done at the desk before it.

import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { runs, tried } from '../support/runs.js';
import { anyActs } from './any-act.js';
import { play } from './play.js';

test(
  'no message breaks what holds in every talk',
  () => {
    let messages = 0;
    fc.assert(
      fc.property(anyActs(14), (acts) => {
        const played = play(acts);
        messages += played.messages;
        expect(played.bad).toEqual([]);
      }),
      runs(120),
    );
    tried('messages in talks of any acts', messages);
  },
  runs(0).timeout,
);
