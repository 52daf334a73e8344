import { expect, test } from 'vitest';
import { judged, measured, odds } from './a-case.js';

const BEEP = 'defrost-heater.continuity';
const on230 = { readings: [measured('supply.voltage', { value: 230, unit: 'V' })] };

test('closed is good, open and OL are bad, and a closed one is expected', () => {
  expect(judged(BEEP, { value: 'closed' })).toMatchObject({
    verdict: 'good',
    outcome: 'good',
    expected: { state: 'closed' },
  });
  expect(judged(BEEP, { value: 'open' })).toMatchObject({ verdict: 'bad', outcome: 'bad-open' });
  expect(judged(BEEP, { value: 'OL' })).toMatchObject({ verdict: 'bad', outcome: 'bad-open' });
});

// Many beepers stop at 30 to 50 ohm, and a sound 230 V element has more: common practice, no source.
test('a silent beeper on 230 V proves nothing, over-limit does', () => {
  expect(judged(BEEP, { value: 'open' }, on230)).toMatchObject({
    verdict: 'inconclusive',
    outcome: 'inconclusive-beeper',
  });
  expect(judged(BEEP, { value: 'OL' }, on230)).toMatchObject({ verdict: 'bad' });
  const silent = odds('defrost-heater-open', BEEP, { value: 'open' }, on230);
  expect(silent).toBeGreaterThan(1);
  expect(silent).toBeLessThan(2.5);
});

test('a silent beeper whose heater was read at 48 ohm tells nothing, and does not contradict it', () => {
  const readings = [measured('defrost-heater.resistance', { value: 48, unit: 'ohm' })];
  expect(judged(BEEP, { value: 'open' }, { readings })).toMatchObject({
    outcome: 'inconclusive-beeper',
    weights: null,
    asks: null,
  });
});

test('before and after: open raises the open heater, closed lowers it, OL says more than silence', () => {
  const silent = odds('defrost-heater-open', BEEP, { value: 'open' });
  expect(silent).toBeGreaterThan(5);
  expect(odds('defrost-heater-open', BEEP, { value: 'OL' })).toBeGreaterThan(silent);
  expect(odds('defrost-heater-open', BEEP, { value: 'closed' })).toBeLessThan(0.1);
});
