// The defrost heater by a continuity beep: open or not. Many beepers fall silent above some ten ohms, so silence says
// less than over-limit does, and on 230 V, where sound elements have more ohms, next to nothing.

import { HEATER_OHMS } from './heater-rating.js';
import { latest, mainsOf, readingOf } from './mains.js';
import { numberOf } from './numbers.js';
import { seen } from './ohms.js';
import { CONTRADICTING, tellsNothing, type Expectation, type Judge, type Setting } from './opinion.js';

const expectation: Expectation = { expected: { state: 'closed' }, against: 'common-practice', outcome: 'expect' };

export const heaterContinuity: Judge = {
  id: 'heater-continuity',
  states: ['sound', 'open'],
  numbers: {
    'silent-though-sound-us': 'ratio',
    'silent-though-sound-eu': 'ratio',
    'beep-though-open': 'ratio',
    'beeper-limit': 'ohm',
    'meter-wrong': 'ratio',
  },
  outcomes: ['expect', 'good', 'bad-open', 'inconclusive-beeper', ...CONTRADICTING],
  expects: () => expectation,
  judges(setting, value) {
    const { reading } = setting;
    const { expected, against } = expectation;
    const base = { expected, against, asks: null };
    const beep = numberOf(reading, 'beep-though-open', 'ratio');
    const system = mainsOf(setting).system?.name ?? 'us';
    const key = value === 'OL' ? 'meter-wrong' : `silent-though-sound-${system}`;
    const silent = numberOf(reading, key, 'ratio');
    if (value === 'closed')
      return { ...base, verdict: 'good', outcome: 'good', weights: { sound: 1 - silent, open: beep } };
    // Its ohms are known, and more than a beeper beeps at: its silence adds nothing.
    if (value === 'open' && beyondBeeper(setting)) return tellsNothing(expectation, 'inconclusive-beeper');
    const weights = { sound: silent, open: 1 - beep };
    // More often than not a sound one is silent too.
    if (silent > 0.5) return { ...base, verdict: 'inconclusive', outcome: 'inconclusive-beeper', weights };
    return { ...base, verdict: 'bad', outcome: 'bad-open', weights };
  },
};

function beyondBeeper({ knowledge, reading, others }: Setting): boolean {
  const ohms = latest(others, HEATER_OHMS);
  if (ohms === undefined) return false;
  const what = seen(readingOf(knowledge, HEATER_OHMS), ohms.value);
  return what.kind === 'ohms' && what.ohm > numberOf(reading, 'beeper-limit', 'ohm');
}
