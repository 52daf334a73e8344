import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { FairQueue } from '../../src/channels/fair-queue.js';
import { runs, tried } from '../support/runs.js';

const limits = { waiting: 6, perMinute: 20 };
const drained = (queue: FairQueue<string>, now: number): string[] => {
  const out: string[] = [];
  for (let next = queue.next(now); next; next = queue.next(now)) out.push(next.item);
  return out;
};

test('given one who floods, the others are next after one message of theirs', () => {
  const queue = new FairQueue<string>(limits);
  for (let n = 0; n < 1000; n += 1) queue.add('flood', `f${n}`, false);
  queue.add('a', 'a1', false);
  queue.add('b', 'b1', false);
  expect(drained(queue, 0)).toEqual(['f0', 'a1', 'b1', 'f1', 'f2', 'f3', 'f4', 'f5']);
});

test('whose message before is not done yet waits, and the others go on', () => {
  const queue = new FairQueue<string>(limits);
  for (const item of ['a1', 'a2']) queue.add('a', item, false);
  queue.add('b', 'b1', false);
  expect(queue.next(0)?.item).toBe('a1');
  const busy = new Set(['a']);
  expect(queue.next(0, busy)?.item).toBe('b1');
  expect(queue.next(0, busy)).toBeNull();
  expect(queue.nextAt(0, busy)).toBeNull();
  expect(queue.next(0)?.item).toBe('a2');
});

test('who sends too much is told once, and again only after having been read', () => {
  const queue = new FairQueue<string>(limits);
  const taken = Array.from({ length: 9 }, (_, n) => queue.add('a', String(n), false));
  expect(taken.slice(5)).toEqual(['waits', 'full', 'dropped', 'dropped']);
  queue.next(0);
  expect([queue.add('a', 'x', false), queue.add('a', 'y', false)]).toEqual(['waits', 'full']);
});

test('a message of danger goes before all others, and is never left out', () => {
  const queue = new FairQueue<string>(limits);
  for (let n = 0; n < 50; n += 1) queue.add('a', `a${n}`, false);
  queue.add('b', 'b1', false);
  expect(queue.add('a', 'smoke', true)).toBe('waits');
  expect(queue.add('a', 'gas', true)).toBe('waits');
  expect(drained(queue, 0).slice(0, 3)).toEqual(['smoke', 'gas', 'b1']);
});

test('no more in a minute than there may be; danger all the same', () => {
  const queue = new FairQueue<string>({ waiting: 100, perMinute: 3 });
  for (let n = 0; n < 5; n += 1) queue.add('a', String(n), false);
  expect(drained(queue, 1000)).toEqual(['0', '1', '2']);
  expect(queue.nextAt(2000)).toBe(61_000);
  queue.add('a', 'smoke', true);
  expect(queue.nextAt(2000)).toBe(2000);
  expect(drained(queue, 2000)).toEqual(['smoke']);
  // four were taken up: two of them have to be a minute old
  expect(queue.nextAt(3000)).toBe(61_000);
  expect(drained(queue, 61_000)).toEqual(['3', '4']);
  expect(queue.nextAt(61_000)).toBeNull();
});

test('whatever comes: each person in their own order, nothing twice, nothing lost that waits, memory is given back', () => {
  const { numRuns, seed } = runs(500);
  const step = fc.oneof(
    fc.record({ person: fc.constantFrom('a', 'b', 'c'), urgent: fc.boolean() }),
    fc.constant('next' as const),
  );
  fc.assert(
    fc.property(fc.array(step, { maxLength: 80 }), (steps) => {
      const queue = new FairQueue<string>({ waiting: 3, perMinute: 5 });
      const waits: string[] = [];
      const out: string[] = [];
      let now = 0;
      steps.forEach((s, n) => {
        now += 500;
        if (s === 'next') {
          const next = queue.next(now);
          if (next) out.push(next.item);
        } else if (queue.add(s.person, `${s.person}${s.urgent ? '!' : '.'}${n}`, s.urgent) === 'waits')
          waits.push(`${s.person}${s.urgent ? '!' : '.'}${n}`);
        else expect(s.urgent).toBe(false);
      });
      for (let more = 0; more < 60; more += 1) out.push(...drained(queue, (now += 60_001)));
      expect(out.toSorted()).toEqual(waits.toSorted());
      for (const kind of ['a.', 'b.', 'c.', 'a!', 'b!', 'c!']) {
        const of = (items: readonly string[]): string[] => items.filter((i) => i.startsWith(kind));
        expect(of(out)).toEqual(of(waits));
      }
      expect(queue.nextAt(now)).toBeNull();
    }),
    { numRuns, seed },
  );
  tried('queues of three persons', numRuns);
});
