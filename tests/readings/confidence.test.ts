import { expect, test } from 'vitest';
import { confidenceOf, type Confidence } from '../../src/readings/confidence.js';
import { judge } from '../../src/readings/judge.js';
import { caseOf, knowledge, measured, type Known, type Stated } from './a-case.js';

function sure(step: string, stated: Stated, known: Known = {}): [string, Confidence] {
  const reading = knowledge.readings.get(step);
  if (!reading) throw new Error(step);
  const one = measured(step, stated);
  const state = caseOf(known);
  const { against } = judge(knowledge, state, one, known.readings ?? [], 'technician');
  return [against, confidenceOf(knowledge, state, reading, one, against)];
}

const sensor = { value: 5.4, unit: 'kohm', atC: 22.8 } as const;
const heater = { value: 32, unit: 'ohm' } as const;

test.each<[string, string, Stated, Known, [string, Confidence]]>([
  [
    'a sheet',
    'defrost-sensor.resistance',
    { ...sensor, sheet: { value: 5.4, unit: 'kohm', atC: 22.8 } },
    {},
    ['sheet', 'given'],
  ],
  ['a curve', 'defrost-sensor.resistance', { ...sensor, curve: 'ntc-5k-b3984' }, {}, ['curve', 'published']],
  [
    'a family of a sheet',
    'defrost-sensor.resistance',
    sensor,
    { family: 'larkmoor-3-door' },
    ['case', 'common-practice'],
  ],
  ['nothing', 'defrost-sensor.resistance', sensor, {}, ['common-practice', 'from-memory']],
  [
    'a rating',
    'defrost-heater.resistance',
    { ...heater, rating: { power: 450, voltage: 120 } },
    {},
    ['rating', 'given'],
  ],
  ['a family', 'defrost-heater.resistance', heater, { family: 'northpine-2-door' }, ['case', 'common-practice']],
  [
    'an earlier rating',
    'defrost-heater.resistance',
    heater,
    { readings: [measured('defrost-heater.current', { value: 3.7, unit: 'A', rating: { power: 450, voltage: 120 } })] },
    ['case', 'given'],
  ],
  ['no mark', 'defrost-thermostat.continuity', { value: 'open', atC: -18 }, {}, ['common-practice', 'common-practice']],
  [
    'a family’s mark',
    'defrost-thermostat.continuity',
    { value: 'open', atC: -18 },
    { family: 'larkmoor-3-door' },
    ['case', 'common-practice'],
  ],
  ['the outlet', 'supply.voltage', { value: 118, unit: 'V' }, {}, ['common-practice', 'from-memory']],
  ['a freezer', 'freezer.temperature', { value: -18, unit: 'degC' }, {}, ['common-practice', 'common-practice']],
])('%s', (_, step, stated, known, expected) => {
  expect(sure(step, stated, known)).toEqual(expected);
});

test('every reading has numbers behind its common practice', () => {
  for (const reading of knowledge.readings.values()) {
    const confidence = confidenceOf(knowledge, caseOf(), reading, { curve: null }, 'common-practice');
    expect(['published', 'common-practice', 'from-memory'], reading.id).toContain(confidence);
  }
});
