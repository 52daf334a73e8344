import { expect, test } from 'vitest';
import type { Mark } from '../../src/case/events.js';
import { accept } from '../../src/readings/accept.js';
import { judge, type Judged } from '../../src/readings/judge.js';
import { caseOf, judged, knowledge, measured, NOW, odds } from './a-case.js';

const BIMETAL = 'defrost-thermostat.continuity';
// stamped 55-30 in Fahrenheit: opens at 12.8 degC, closes 16.7 K lower
const rating = { opensC: 12.8, differentialC: 16.7 };

// The logic of the contact: closes cold, opens warm (US 4 689 965 and US 6 772 597 describe it). The limits without a
// mark are common practice, no source.
test.each([-18, -15, -12.2, -11])('open at %d degC is bad under every mark, closed there is good', (atC) => {
  for (const value of ['open', 'OL'] as const)
    expect(judged(BIMETAL, { value, atC })).toMatchObject({
      verdict: 'bad',
      outcome: 'bad-open',
      expected: { state: 'closed' },
    });
  expect(judged(BIMETAL, { value: 'closed', atC })).toMatchObject({
    verdict: 'good',
    outcome: 'good',
    against: 'common-practice',
  });
});

test.each([4.5, 20, 21.1, 25])('open at %d degC means nothing: chill it and test again', (atC) => {
  const one = judged(BIMETAL, { value: 'open', atC });
  expect(one).toMatchObject({ verdict: 'inconclusive', outcome: 'inconclusive-warm', weights: null, asks: 'repeat' });
  expect(one.why).toMatch(/chill it near 0 F \(-18 C\) and test again/i);
  expect(odds('defrost-thermostat-open', BIMETAL, { value: 'open', atC })).toBe(1);
});

test('bimetal OL, room temp: the assumed temperature makes no verdict either', () => {
  expect(judged(BIMETAL, { value: 'OL', atC: 21, atAssumed: true })).toMatchObject({
    verdict: 'inconclusive',
    asks: 'repeat',
  });
});

test('without its temperature it tells nothing and asks for it', () => {
  for (const value of ['open', 'closed', 'OL'] as const)
    expect(judged(BIMETAL, { value })).toMatchObject({
      verdict: 'inconclusive',
      outcome: 'inconclusive-no-temperature',
      weights: null,
      asks: 'temperature',
    });
});

test('"in the freezer" of a unit thawed today is no temperature; a measured one counts', () => {
  const known = { found: { 'unit.thawed-recently': 'under-a-day' } };
  expect(judged(BIMETAL, { value: 'open', atC: -18, atAssumed: true }, known)).toMatchObject({
    weights: null,
    asks: 'temperature',
  });
  expect(judged(BIMETAL, { value: 'open', atC: -18 }, known)).toMatchObject({ verdict: 'bad' });
});

test('closed when warm: without a mark it depends on it, well above every opening temperature it is stuck', () => {
  expect(judged(BIMETAL, { value: 'closed', atC: 22 })).toMatchObject({
    verdict: 'inconclusive',
    outcome: 'inconclusive-mark',
    asks: 'mark',
  });
  expect(judged(BIMETAL, { value: 'closed', atC: 90 })).toMatchObject({ verdict: 'bad', outcome: 'bad-closed' });
  expect(judged(BIMETAL, { value: 'closed', atC: 0 })).toMatchObject({
    verdict: 'inconclusive',
    outcome: 'inconclusive-between',
  });
});

test('with its mark: closed warm is stuck closed, open warm proves half, between the two either is right', () => {
  expect(judged(BIMETAL, { value: 'closed', atC: 25, rating })).toMatchObject({
    verdict: 'bad',
    outcome: 'bad-closed',
    against: 'rating',
    expected: { state: 'open' },
  });
  expect(judged(BIMETAL, { value: 'open', atC: 25, rating })).toMatchObject({
    verdict: 'inconclusive',
    outcome: 'inconclusive-open',
  });
  expect(judged(BIMETAL, { value: 'closed', atC: 5, rating })).toMatchObject({
    verdict: 'inconclusive',
    expected: { state: 'either' },
  });
  expect(judged(BIMETAL, { value: 'closed', atC: -18, rating })).toMatchObject({ verdict: 'good' });
  expect(judged(BIMETAL, { value: 'open', atC: -18, rating })).toMatchObject({ verdict: 'bad' });
});

test('60-40 in Celsius must be closed at 10 degC, where 60-40 in Fahrenheit may be open', () => {
  const celsius = { opensC: 60, differentialC: 40 };
  const fahrenheit = { opensC: 15.6, differentialC: 22.2 };
  expect(judged(BIMETAL, { value: 'open', atC: 10, rating: celsius })).toMatchObject({ verdict: 'bad' });
  expect(judged(BIMETAL, { value: 'open', atC: 10, rating: fahrenheit })).toMatchObject({ verdict: 'inconclusive' });
  expect(judged(BIMETAL, { value: 'open', atC: 10 })).toMatchObject({ verdict: 'inconclusive' });
});

test('the family and an earlier reading know the mark', () => {
  expect(judged(BIMETAL, { value: 'closed', atC: 30 }, { family: 'northpine-2-door' })).toMatchObject({
    verdict: 'bad',
    against: 'case',
  });
  const readings = [measured(BIMETAL, { value: 'closed', atC: -18, rating })];
  expect(judged(BIMETAL, { value: 'closed', atC: 30 }, { readings })).toMatchObject({
    verdict: 'bad',
    against: 'case',
  });
});

test('before and after: open in the cold a lot, closed against it, the edge of the cold in between', () => {
  const at = (value: 'open' | 'closed', atC: number): number =>
    odds('defrost-thermostat-open', BIMETAL, { value, atC });
  expect(at('open', -18)).toBeGreaterThan(15);
  expect(at('closed', -18)).toBeLessThan(0.2);
  expect(at('open', -6)).toBeLessThan(at('open', -18));
  expect(at('open', -6)).toBeGreaterThan(at('open', 0));
  expect(at('open', 0)).toBeGreaterThanOrEqual(1);
});

test('before and after: closed when warm raises the stuck one, more so with the mark', () => {
  const stuck = (stated: object): number =>
    odds('defrost-thermostat-stuck-closed', BIMETAL, { value: 'closed', atC: 25, ...stated });
  expect(stuck({})).toBeGreaterThan(1.5);
  expect(stuck({ rating })).toBeGreaterThan(20);
});

/** A contact at a temperature, with two numbers stamped on it. */
function stamped(value: 'open' | 'closed', atC: number, mark: Mark['mark'], unit: Mark['unit'] = null): Judged {
  const stated = { part: 'defrost-thermostat', quantity: 'continuity', value, atC } as const;
  const accepted = accept(knowledge, stated, false, { mark, unit });
  if (!accepted.ok) throw new Error(accepted.message);
  return judge(knowledge, caseOf(), { ...accepted.measurement, at: NOW, by: 'u1' }, [], 'technician');
}

// Makers stamp either unit, and the differential or the reset temperature (common practice, no source): 60-40 opens at
// 15.6 or 60 degC and closes at -6.7, 4.4, 20 or 40 degC.
test('60-40 without a unit: a verdict only where all four readings of it agree', () => {
  expect(stamped('open', -18, [60, 40])).toMatchObject({ verdict: 'bad', against: 'rating' });
  expect(stamped('closed', -18, [60, 40])).toMatchObject({ verdict: 'good' });
  expect(stamped('closed', 75, [60, 40])).toMatchObject({ verdict: 'bad', outcome: 'bad-closed' });
  for (const atC of [0, 10, 25, 40])
    for (const value of ['open', 'closed'] as const)
      expect(stamped(value, atC, [60, 40])).toMatchObject({
        verdict: 'inconclusive',
        outcome: 'inconclusive-mark',
        asks: 'mark',
      });
  expect(stamped('open', 25, [60, 40]).why).toMatch(/C or F.*test near 0 F/);
});

test('the unit on the mark leaves two readings: L55-30F is open for sure at 25 degC, 60-40 in Celsius is not', () => {
  expect(stamped('closed', 25, [55, 30], 'degF')).toMatchObject({ verdict: 'bad', outcome: 'bad-closed' });
  expect(stamped('open', 25, [55, 30], 'degF')).toMatchObject({ outcome: 'inconclusive-open' });
  expect(stamped('open', 10, [60, 40], 'degC')).toMatchObject({ verdict: 'bad' });
  expect(stamped('closed', 25, [60, 40], 'degC')).toMatchObject({ verdict: 'inconclusive' });
});

test('a mark weighs less than a rating where its readings differ, and as much where they agree', () => {
  const open = (one: Judged): number => (one.weights?.[1] ?? 1) / (one.weights?.[0] ?? 1);
  const celsius = judged(BIMETAL, { value: 'open', atC: 10, rating: { opensC: 60, differentialC: 40 } });
  expect(open(stamped('open', 10, [60, 40]))).toBeGreaterThan(1);
  expect(open(stamped('open', 10, [60, 40]))).toBeLessThan(open(celsius) / 5);
  expect(open(stamped('open', -30, [60, 40]))).toBeCloseTo(
    open(judged(BIMETAL, { value: 'open', atC: -30, rating })),
    0,
  );
});

test('an earlier mark counts for a later test; an impossible one is refused by its field', () => {
  const earlier = stamped('closed', -18, [55, 30], 'degF').measured;
  expect(judged(BIMETAL, { value: 'closed', atC: 30 }, { readings: [earlier] })).toMatchObject({
    verdict: 'bad',
    against: 'case',
  });
  const stated = { part: 'defrost-thermostat', quantity: 'continuity', value: 'open' } as const;
  const refused = (more: object, mark: Mark): unknown => accept(knowledge, { ...stated, ...more }, false, mark);
  expect(refused({}, { mark: [900, 900], unit: null })).toMatchObject({ ok: false, field: 'reading.mark' });
  expect(refused({ rating }, { mark: [60, 40], unit: null })).toMatchObject({ ok: false, field: 'reading.mark' });
  expect(refused({ part: 'defrost-heater' }, { mark: [60, 40], unit: null })).toMatchObject({ field: 'reading.mark' });
});
