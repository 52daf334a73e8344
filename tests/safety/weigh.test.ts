import { describe, expect, test } from 'vitest';
import { read } from '../../src/message/phrases.js';
import { opinionOn } from '../../src/safety/opinion.js';
import { weigh, type Known, type Weighed } from '../../src/safety/weigh.js';
import { realKnowledge } from '../support/knowledge.js';

const knowledge = realKnowledge();
const nothing: Known = { standing: [], doubted: [], asking: [] };
const weighed = (text: string, known: Partial<Known> = {}): Weighed =>
  weigh(knowledge, text, 'homeowner', { ...nothing, ...known });
const raised = (w: Weighed): string[] => w.alarms.map((h) => h.hazard);

describe('words that name a danger plainly', () => {
  const surely = 1;
  const blind = {
    ...knowledge,
    hearing: {
      ask: { ...knowledge.hearing.ask, value: surely },
      doubt: {
        stop: { ...knowledge.hearing.doubt.stop, value: surely },
        caution: { ...knowledge.hearing.doubt.caution, value: surely },
      },
    },
  };

  test.each([
    ['I smell burning', 'burning-smell'],
    ['smoke is coming out of the back', 'burning-smell'],
    ['I smell gas', 'gas-smell'],
    ['I got an electric shock', 'electric-shock'],
    ['the plug is lying in water', 'water-near-live-parts'],
    ['the breaker keeps tripping', 'breaker-trips'],
    ['I punctured the tube', 'refrigerant-leak'],
    ['a blowtorch on the ice', 'open-flame-on-ice'],
  ])('are an alarm even where the second opinion doubts everything: %s', (text, hazard) => {
    const { alarms } = weigh(blind, text, 'homeowner', nothing);
    expect(alarms.map((h) => h.hazard)).toContain(hazard);
  });

  test('every example of a stop hazard is heard: as an alarm, or as a question first', () => {
    const missed = [...knowledge.hazards.values()]
      .filter((h) => h.level === 'stop')
      .flatMap((h) =>
        h.examples.filter((e) => {
          const w = weighed(e);
          return ![...raised(w), ...w.named].includes(h.id);
        }),
      );
    expect(missed).toEqual([]);
  });
});

describe('a danger told as past', () => {
  test.each([
    ['the plug was sparking years ago', 'burning-smell'],
    ['last year I got an electric shock from the door', 'electric-shock'],
    ['there was a gas leak here ages ago', 'gas-smell'],
  ])('is asked about before it is let go: %s', (text, hazard) => {
    const w = weighed(text);
    expect(w.named).toContain(hazard);
    expect(raised(w)).not.toContain(hazard);
  });

  test('but one that lasts is an alarm', () => {
    expect(raised(weighed('I got an electric shock last year and today I got an electric shock again'))).toContain(
      'electric-shock',
    );
  });

  test('and one whose cause was mended is let go', () => {
    const w = weighed('The outlet was scorched last year, the electrician replaced it, fine since.');
    expect([...raised(w), ...w.named]).toEqual([]);
  });
});

describe('the second opinion', () => {
  // none of these is a lesson or an example
  test.each([
    ['my wrist got a nasty sting off the metal trim and I dropped the spoon', 'electric-shock'],
    ['I am scraping away at the slab with my pocket knife and a mallet', 'sharp-tool-on-ice'],
  ])('hears what phrases may not: %s', (text, hazard) => {
    const w = weighed(text);
    expect([...raised(w), ...w.named, ...w.thought]).toContain(hazard);
  });

  test('does not ask again what was asked before, nor what stands', () => {
    const text = 'there is red all over the tea towel from those metal fins';
    const { hazards } = opinionOn(knowledge, read(text));
    expect(weighed(text, { doubted: hazards, standing: [] }).thought).toEqual([]);
    expect(weighed(text, { doubted: [], standing: hazards }).thought).toEqual([]);
  });

  test('is the same each time, and says nothing of nothing', () => {
    expect(opinionOn(knowledge, read('frost on the back wall')).sure).toBe(
      opinionOn(knowledge, read('frost on the back wall')).sure,
    );
    for (const text of ['', '?!', '\u200b', 'qwxz zzkq'])
      expect(opinionOn(knowledge, read(text)).sure).toBeLessThan(0.15);
  });
});

test('words that name what was just asked about are an answer, and an alarm', () => {
  const text = 'the plug was sparking years ago';
  expect(raised(weighed(text, { asking: ['burning-smell'] }))).toContain('burning-smell');
});
