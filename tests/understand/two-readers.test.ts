// Phrases and the second reader as one: agreement is taken, half a belief is asked, a contradicted phrase is asked too.
import { describe, expect, test } from 'vitest';
import { read } from '../../src/message/phrases.js';
import type { PlacedValue } from '../../src/understand/findings.js';
import { likelyIn, type Likely } from '../../src/understand/second-reader.js';
import { answeredByLikeness, withSecond } from '../../src/understand/two-readers.js';
import { realKnowledge } from '../support/knowledge.js';

const knowledge = realKnowledge();
const text = read('the seal is torn and the fan is silent');
const phrase = (finding: string, value: string, denied = false): PlacedValue => ({
  finding,
  value,
  denied,
  confidence: 0.9,
  span: 'x',
  from: 0,
  to: 1,
});
const likely = (finding: string, value: string, p: number): Likely => ({ finding, value, p, from: 2, to: 3 });
const values = (list: readonly { finding: string; value: string }[]): string[] =>
  list.map((f) => `${f.finding}=${f.value}`);

describe('what is taken', () => {
  test('a phrase that the second reader finds likely too', () => {
    const { found, doubtful } = withSecond(
      knowledge,
      text,
      [phrase('unit.power', 'off')],
      [likely('unit.power', 'off', 0.4)],
      null,
    );
    expect(values(found)).toEqual(['unit.power=off']);
    expect(doubtful).toEqual([]);
  });

  test('a phrase in whose words it sees nothing of the kind is asked, unless it answers the question', () => {
    const said = [phrase('unit.power', 'off')];
    expect(values(withSecond(knowledge, text, said, [], null).doubtful)).toEqual(['unit.power=off']);
    expect(values(withSecond(knowledge, text, said, [], 'unit.power').found)).toEqual(['unit.power=off']);
    expect(withSecond(knowledge, text, [phrase('unit.power', 'off', true)], [], null).found).toHaveLength(1);
  });

  test('what it alone is sure of is taken less surely; what it half believes is asked', () => {
    const sure = withSecond(knowledge, text, [], [likely('cooling.freezer', 'thawing', 0.9)], null);
    expect(sure.found[0]?.confidence).toBeLessThan(0.9);
    const half = withSecond(knowledge, text, [], [likely('unit.power', 'off', 0.57)], null);
    expect(half.found).toEqual([]);
    expect(values(half.doubtful)).toEqual(['unit.power=off']);
    expect(withSecond(knowledge, text, [], [likely('unit.power', 'off', 0.3)], null)).toEqual({
      found: [],
      doubtful: [],
    });
  });

  test('it adds no second value to a finding that holds one, and none that was denied', () => {
    const one = [phrase('cooling.freezer', 'normal')];
    const both = [likely('cooling.freezer', 'normal', 0.7), likely('cooling.freezer', 'thawing', 0.9)];
    expect(values(withSecond(knowledge, text, one, both, null).found)).toEqual(['cooling.freezer=normal']);
    const denied = [phrase('frost.location', 'door-edge', true)];
    const again = [likely('frost.location', 'door-edge', 0.9)];
    expect(withSecond(knowledge, text, denied, again, null).found).toEqual(denied);
  });

  test('that the plug is out, or how a repair went, is never taken by likeness alone', () => {
    const off = withSecond(knowledge, text, [], [likely('unit.power', 'off', 0.95)], null);
    expect(off.found).toEqual([]);
    expect(values(off.doubtful)).toEqual(['unit.power=off']);
    const fixed = [likely('repair.result', 'fixed', 0.95)];
    expect(answeredByLikeness(knowledge, text, { found: [], notSure: false }, fixed, 'repair.result').found).toEqual(
      [],
    );
  });

  test('an answer by likeness only where nothing else answered', () => {
    const asked = 'cooling.freezer';
    const guess = [likely(asked, 'thawing', 0.8)];
    const none = { found: [], notSure: false };
    expect(values(answeredByLikeness(knowledge, text, none, guess, asked).found)).toEqual([`${asked}=thawing`]);
    const own = { found: [phrase(asked, 'normal')], notSure: false };
    expect(values(answeredByLikeness(knowledge, text, own, guess, asked).found)).toEqual([`${asked}=normal`]);
    expect(answeredByLikeness(knowledge, text, { found: [], notSure: true }, guess, asked).found).toEqual([]);
  });
});

describe('the second reader, taught by the folder', () => {
  // sentences that no file of the folder holds
  test.each([
    ['the rubber strip round my door has a big rip in it', 'gasket.condition', 'torn'],
    ['our freezer stands out in the garage with no heating', 'usage.room', 'unheated-space'],
    ['that motor just hums on and on, it never takes a break', 'compressor.running', 'constantly'],
    ['yesterday the electricity failed and since then the frost', 'frost.onset', 'after-power-cut'],
  ])('%s', (said, finding, value) => {
    const best = likelyIn(knowledge, read(said), null).find((l) => knowledge.findings.has(l.finding));
    expect(best).toMatchObject({ finding, value });
  });

  test.each(['set an alarm for six tomorrow', 'who won the football last night'])('nothing of ours in: %s', (said) => {
    expect(likelyIn(knowledge, read(said), null).filter((l) => knowledge.findings.has(l.finding) && l.p > 0.5)).toEqual(
      [],
    );
  });
});

test('nonsense is like nothing, whatever was asked', () => {
  for (const asked of [
    'unit.ice-dispenser',
    'unit.defrost-control',
    'frost.kind',
    'frost.return-time',
    'door.closes-fully',
  ])
    for (const said of ['asdf', 'qwerty zxcv', 'hmm hmm hmm', 'lorem ipsum dolor'])
      expect(
        likelyIn(knowledge, read(said), asked).filter((l) => l.p > 0.5),
        `${asked}: ${said}`,
      ).toEqual([]);
});
