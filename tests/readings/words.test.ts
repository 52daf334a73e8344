import { expect, test } from 'vitest';
import { valueText } from '../../src/readings/words.js';
import { judged, knowledge } from './a-case.js';

test('values in the words and units of the reader', () => {
  const technician = { knowledge, words: 'technician', units: 'us' } as const;
  const homeowner = { knowledge, words: 'homeowner', units: 'si' } as const;
  expect(valueText(technician, 5400, 'resistance')).toBe('5.4 kΩ');
  expect(valueText(homeowner, 5400, 'resistance')).toBe('5.4 kilohms');
  expect(valueText(technician, -18, 'temperature')).toBe('0 °F');
  expect(valueText(homeowner, -18, 'temperature')).toBe('-18 °C');
  expect(valueText(technician, 0.45, 'current')).toBe('450 mA');
  expect(valueText(technician, 45, 'relative-humidity')).toBe('45 %');
  expect(valueText(technician, 'OL', 'resistance')).toBe('OL');
  expect(valueText(technician, 'closed', 'continuity')).toBe('closed');
});

test('the two readers get their own sentence', () => {
  const stated = { value: 'open', atC: -18 } as const;
  const technician = judged('defrost-thermostat.continuity', stated).why;
  const homeowner = judged('defrost-thermostat.continuity', stated, {}, 'homeowner').why;
  expect(technician).toMatch(/failed open/);
  expect(homeowner).not.toBe(technician);
});

test('homeowners get sentences of 20 words at most', () => {
  for (const reading of knowledge.readings.values())
    for (const [outcome, words] of Object.entries(reading.why))
      for (const sentence of words.homeowner.split(/[.?!](?:\s|$)/))
        expect(sentence.trim().split(/\s+/).length, `${reading.id} ${outcome}: ${sentence}`).toBeLessThanOrEqual(20);
});
