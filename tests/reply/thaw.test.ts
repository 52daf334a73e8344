// A thaw in figures, from what a case knows of its frost.
import { expect, test } from 'vitest';
import { iceFigures, topicFigures } from '../../src/reply/ice-figures.js';
import { about } from '../../src/reply/ice-amount.js';
import { thawOf } from '../../src/reply/thaw.js';
import { caseOf, knowledge, measured, type Known } from '../readings/a-case.js';

const frost = (mm: number) => measured('frost.thickness', { value: mm, unit: 'mm' });
const room = (atC: number) => measured('room.temperature', { value: atC, unit: 'degC' });
const floor = { 'frost.location': 'freezer-floor', 'frost.kind': 'clear-ice' };

/** What the conclusion of a fault says of the ice. */
function figures(fault: string, known: Known, words: 'homeowner' | 'technician' = 'homeowner'): string {
  const state = caseOf(known);
  const remedy = knowledge.faults.get(fault)?.repair[words].remedy ?? '';
  return iceFigures({ knowledge, words, units: known.units ?? 'us' }, state, [], fault, remedy).join('\n');
}

// 0.2 m2 x 25.4 mm x 917 kg/m3 = 4.66 kg of ice, 4.66 L or 4.92 quarts; by the heat of melting from -18 degC (334 + 2.101 x 18 =
// 371.8 kJ/kg) over 5 or 12 W/(m2 K) and 21 K it takes 9.6 to 22.9 h.
test('an inch of clear ice on the floor: water, hours, what to have ready, and what was assumed', () => {
  const known = { found: floor, readings: [measured('frost.thickness', { value: 1, unit: 'in' })] };
  expect(figures('drain-iced', known)).toBe(
    'Be ready for about 5 quarts of water. Have towels, a flat pan and a bucket at hand. ' +
      'At 70 °F in the room, the ice in sight melts in about 9.5 to 23 hours. Hidden ice takes longer. ' +
      'You did not say how warm the room is, so I took 70 °F.',
  );
  expect(figures('drain-iced', { ...known, units: 'si' }, 'technician')).toMatch(
    /Be ready for about 4\.5 litres of water \(4\.5 kg of ice\)/,
  );
});

test('a measured room counts: half the warmth, twice the hours; in the cold it stays', () => {
  const at = (atC: number): string =>
    figures('drain-iced', { found: floor, readings: [frost(25.4), room(atC)], units: 'si' });
  expect(at(10.5)).toMatch(/At 10\.5 °C in the room, the ice in sight melts in about 19 to 46 hours/);
  expect(at(10.5)).not.toMatch(/did not say/);
  expect(at(-3)).toMatch(/In a room at -3 °C the ice does not melt/);
});

test('thickness not said: the usual one is taken and told; none said to be there: no plan', () => {
  expect(figures('moisture-load', { found: { 'frost.location': 'all-over', 'frost.kind': 'soft-snow' } })).toMatch(
    /did not say how thick it is, so I took 0\.39 inches/,
  );
  expect(figures('moisture-load', {})).toBe('');
  expect(figures('moisture-load', { found: { 'frost.location': 'none' } })).toBe('');
  expect(figures('moisture-load', { found: floor, readings: [frost(0)] })).toBe('');
});

test('nonsense is held to what is possible, so that no case can break on it', () => {
  const readings = [measured('frost.thickness', { value: 1e9, unit: 'm' }), room(900)];
  const thaw = thawOf(knowledge, caseOf({ found: floor, readings }), null);
  expect(thaw?.litres).toBeCloseTo(0.2 * 0.15 * 917, 6);
  expect(thaw?.time.kind).toBe('thaws');
});

test('only a remedy that is a thaw has the plan', () => {
  expect(figures('condenser-dirty', { found: floor, readings: [frost(10)] })).toBe('');
  expect(figures('defrost-heater-open', { found: { 'frost.location': 'freezer-back-wall' } }, 'homeowner')).toBe('');
});

test('asked how to thaw, it answers with the same figures', () => {
  const reader = { knowledge, words: 'homeowner', units: 'us' } as const;
  expect(topicFigures(reader, caseOf({ found: floor, readings: [frost(25.4)] }), 'how-to-thaw')).toEqual([
    expect.stringMatching(/5 quarts.*9\.5 to 23 hours/),
  ]);
  expect(topicFigures(reader, caseOf(), 'how-to-thaw')).toEqual([]);
  expect(topicFigures(reader, caseOf({ found: floor }), 'food-safe')).toEqual([]);
});

test.each([
  [0.04, 0.1],
  [0.52, 0.5],
  [4.66, 4.5],
  [9.9, 10],
  [22.9, 23],
])('about %d is %d', (value, shown) => expect(about(value)).toBe(shown));
