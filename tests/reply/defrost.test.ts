// What one defrost can do for this unit's coil, and when the next one comes.
import { expect, test } from 'vitest';
import { judgeAll } from '../../src/readings/judge.js';
import { iceFigures, topicFigures } from '../../src/reply/ice-figures.js';
import { caseOf, knowledge, measured, type Known } from '../readings/a-case.js';

const frost = (mm: number) => measured('frost.thickness', { value: mm, unit: 'mm' });

function concluded(fault: string, known: Known, words: 'homeowner' | 'technician' = 'technician'): string {
  const state = caseOf({ units: 'si', ...known });
  const remedy = knowledge.faults.get(fault)?.repair[words].remedy ?? '';
  const judged = judgeAll(knowledge, state, words);
  return iceFigures({ knowledge, words, units: 'si' }, state, judged, fault, remedy).join('\n');
}

// 0.25 m2 of hard frost at 400 kg/m3: 5 mm are 0.5 kg and 10 mm 1 kg. By 371.8 kJ/kg and 30.3 % of 450 W (Bansal et al. 2010) that
// is 23 and 45 min; 30 min melt 0.66 kg.
test('5 mm are cleared by one defrost of 30 min, 10 mm are not', () => {
  expect(concluded('defrost-heater-open', { readings: [frost(5)] })).toMatch(
    /One defrost \(450 W\) clears the 0\.5 kg on the coil in about 23 of its 30 min/,
  );
  const thick = concluded('defrost-heater-open', { readings: [frost(10)] });
  expect(thick).toMatch(/One defrost \(450 W, 30 min\) leaves about 0\.3 kg of the 1 kg on the coil\. Thaw it by hand/);
  expect(thick).not.toMatch(/not given.*not given/s);
});

test('the thickness that was not given is said once', () => {
  expect(concluded('defrost-timer-motor', {}).match(/Thickness not given/g)).toHaveLength(1);
});

test('the heater of the rating, of the family, and of its ohms at the measured supply', () => {
  const rating = { power: 600, voltage: 120 };
  const heater = measured('defrost-heater.resistance', { value: 24, unit: 'ohm', rating });
  const watts = (known: Known): string | undefined =>
    /\((\d+) W/.exec(
      concluded('defrost-thermostat-open', { ...known, readings: [...(known.readings ?? []), frost(8)] }),
    )?.[1];
  expect(watts({ readings: [heater] })).toBe('600');
  expect(watts({ family: 'larkmoor-3-door' })).toBe('300');
  // 114 V squared over 24 ohm
  const supply = (volts: number) => measured('supply.voltage', { value: volts, unit: 'V' });
  expect(watts({ readings: [heater, supply(114)] })).toBe('542');
  expect(watts({ readings: [heater, supply(0)] })).toBe('600');
  expect(watts({ readings: [measured('defrost-heater.resistance', { value: 'OL' })] })).toBe('450');
});

test('no homeowner and no other fault is told of it', () => {
  expect(concluded('defrost-heater-open', { readings: [frost(10)] }, 'homeowner')).toBe('');
  expect(concluded('gasket-failed', { readings: [frost(10)] })).toBe('');
  expect(concluded('defrost-heater-open', { readings: [frost(0)] })).toBe('');
});

// 10 CFR 430 subpart B appendix A, 5.2.1.3: 6 and 96 h give 24 h.
test('asked for the next defrost: by the control, by the family’s timer, or not at all', () => {
  const said = (known: Known): string[] =>
    topicFigures({ knowledge, words: 'technician', units: 'us' }, caseOf(known), 'defrost-cycle');
  expect(said({ found: { 'unit.defrost-control': 'electronic-control' } })).toEqual([
    'Variable control: about 24 h of compressor running to the next one, 6 to 96 h at the ends.',
  ]);
  expect(said({ family: 'northpine-2-door' })).toEqual(['Timer of this family: every 8 h of running.']);
  expect(said({ family: 'northpine-2-door', found: { 'unit.defrost-control': 'manual-defrost' } })).toEqual([]);
  expect(said({})).toEqual([]);
});
