/** When a danger that was named is no alarm, and how little is enough for it to be one all the same. */
import { describe, expect, test } from 'vitest';
import { listen, type Heard } from '../../src/safety/listen.js';
import { realKnowledge } from '../support/knowledge.js';

const heard = (text: string): Heard[] => listen(realKnowledge(), text, 'homeowner');
const raised = (text: string): string[] => heard(text).map((h) => `${h.hazard} ${h.level}${h.asked ? '?' : ''}`);

describe("another machine's danger, or one that was only seen somewhere", () => {
  test.each([
    "my neighbour's fridge smelled of burning plastic",
    'I watched a video where the plug was smoking',
    'I smell gas, not mine',
  ])('is let go: %s', (text) => {
    expect(raised(text)).toEqual([]);
  });

  test.each([
    ['in another sentence', "I smell burning. My neighbour's fridge is fine."],
    ['in another sentence, before', "My neighbour's fridge is fine. I smell burning."],
    [
      'far behind it',
      "I smell burning here in the kitchen near the big window over there and my neighbour's fridge is fine",
    ],
    [
      'far before it',
      "my neighbour's fridge is a very nice one and it has never had a problem but mine has a burning smell",
    ],
  ])('is an alarm where the other machine is named %s', (_, text) => {
    expect(raised(text)).toContain('burning-smell stop');
  });
});

describe('a danger whose cause was found and mended', () => {
  test.each([
    'there was a burning smell, the electrician came and replaced the plug',
    'there was a burning smell. The electrician came and replaced the plug.',
    'Hello. There was a burning smell. The electrician came and replaced the plug.',
    // what comes back later than that belongs to something else
    'there was a burning smell, the electrician came and replaced the plug and we were very happy with all of the work so he can visit every day',
  ])('is let go: %s', (text) => {
    expect(raised(text)).toEqual([]);
  });

  test.each([
    [
      'it has come back',
      'there was a burning smell and the electrician came and replaced the plug, it is back tonight',
    ],
    ['it lasts', 'there was a burning smell and it is still there, the electrician came and replaced the plug'],
    ['it was not mended', 'there was a burning smell, it is not fixed'],
    ['it began afterwards', 'the electrician came and replaced the plug, and now there is a burning smell'],
    [
      'the mending is told two sentences later',
      'there was a burning smell. I rang around. The electrician came and replaced the plug.',
    ],
    [
      'the mending is told much later',
      'there was a burning smell on the day when we had all of the family over for a big meal in our garden and the electrician came',
    ],
  ])('is an alarm where %s', (_, text) => {
    expect(raised(text)).toContain('burning-smell stop');
  });

  test('no smell "again" is no smell', () => {
    expect(raised('there was a burning smell, the electrician came, no smell again')).toEqual([]);
  });
});

describe('what somebody says that they would never do', () => {
  test.each(['I would never use a blowtorch on the ice', 'use a blowtorch on the ice? I know better'])(
    'is let go: %s',
    (text) => {
      expect(raised(text)).toEqual([]);
    },
  );

  test('is an alarm where it was done after all', () => {
    expect(raised('I would never do that. I used a blowtorch on the ice.')).toEqual(['open-flame-on-ice stop']);
  });

  test('lets nothing go that is not a deed: a smell of gas stays one', () => {
    expect(raised('I smell gas, I would never touch it')).toEqual(['gas-smell stop']);
    expect(raised('I would never have thought there would be a burning smell')).toEqual(['burning-smell stop']);
  });
});

describe('a question about a deed', () => {
  test.each([
    'Can I use a blowtorch on the ice?',
    'can I ask, I used a blowtorch on the ice',
    'can I today used a blowtorch on the ice',
  ])('that stands close before it makes it a caution: %s', (text) => {
    expect(raised(text)).toEqual(['open-flame-on-ice caution?']);
  });

  test.each([
    ['behind it', 'I used a blowtorch on the ice. Can I go on?'],
    ['behind it, without a stop', 'used a blowtorch on the ice can I go on'],
    ['far before it', 'can I ask because the thing with this whole freezer is that I used a blowtorch on the ice'],
    [
      'in another sentence',
      'Can I ask something? The thing is that I have been trying to get rid of it and so I used a blowtorch on the ice',
    ],
    ['far before it, without a stop', 'can I with the help of my wife and my two big sons used a blowtorch on the ice'],
    ['close before it, and is over', 'Can I go on? I used a blowtorch on the ice.'],
    ['about doing it again', 'I used a blowtorch on the ice and can I use a blowtorch on the ice'],
  ])('that stands %s makes no deed a question', (_, text) => {
    expect(raised(text)).toEqual(['open-flame-on-ice stop']);
  });

  test('raises nothing beside itself: what is only asked about joins with no other danger', () => {
    expect(raised('Can I use a hair dryer on the ice? Water is near the plug.')).toEqual([
      'water-near-live-parts stop',
      'heat-or-flame-on-ice caution?',
    ]);
    expect(raised('I used a hair dryer on the ice. Water is near the plug.')).toEqual([
      'heat-or-flame-on-ice stop',
      'water-near-live-parts stop',
    ]);
  });
});

describe('one message told twice over', () => {
  test('a danger is told once, by the words that came first', () => {
    expect(heard('I smell burning. There is smoke.')).toMatchObject([{ hazard: 'burning-smell', silent: true }]);
    expect('I smell burning').toContain(heard('I smell burning. There is smoke.')[0]?.span);
  });

  test('a danger that both readings of a hidden sign show is told once', () => {
    expect(raised('I smell gas, and the ice is th\u200bick')).toEqual(['gas-smell stop']);
  });

  test('a stop that only one reading shows stands before a caution that both show', () => {
    expect(raised('I used a hair dryer on the ice and there is sm\u200boke')).toEqual([
      'burning-smell stop',
      'heat-or-flame-on-ice caution',
    ]);
  });
});
