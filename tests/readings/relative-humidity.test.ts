// @ts-expect-error the package carries no types
import untypedPsychrolib from 'psychrolib';
import { expect, test } from 'vitest';
import { roomWater } from '../../src/readings/room-water.js';
import { caseOf, judged, knowledge, measured, odds } from './a-case.js';

const psychrolib = untypedPsychrolib as {
  SI: number;
  SetUnitSystem(system: number): void;
  GetHumRatioFromRelHum(celsius: number, humidity: number, pressure: number): number;
  GetTDewPointFromRelHum(celsius: number, humidity: number): number;
};
psychrolib.SetUnitSystem(psychrolib.SI);

const AIR = 'room.relative-humidity';
const room = (atC: number) => ({ readings: [measured('room.temperature', { value: atC, unit: 'degC' })] });

// Common practice, no source: ordinary up to 60 %.
test.each([
  [45, 'good', 'good'],
  [63, 'good', 'good'],
  [72, 'inconclusive', 'inconclusive-humid'],
  [100, 'inconclusive', 'inconclusive-humid'],
  [8, 'inconclusive', 'inconclusive-dry'],
])('%d %% is %s: a circumstance is never bad', (value, verdict, outcome) => {
  expect(judged(AIR, { value, unit: '%' })).toMatchObject({ verdict, outcome });
});

test('before and after: damp air raises moisture-load, the more the damper; dry air lowers it', () => {
  const move = (value: number): number => odds('moisture-load', AIR, { value, unit: '%' });
  expect(move(80)).toBeGreaterThan(1.8);
  expect(move(62)).toBeLessThan(move(80));
  expect(move(40)).toBeLessThan(1);
});

/** The room's water as the judge sees it. */
function waterAt(atC: number) {
  const reading = knowledge.readings.get(AIR);
  if (!reading) throw new Error('no humidity');
  const { readings: others } = room(atC);
  const { value: _, ...given } = measured(AIR, { value: 50, unit: '%' });
  return roomWater({ knowledge, state: caseOf(), reading, given, others });
}

// psychrolib is the reference: water goes with the humidity ratio of the room above that of the air inside, by the door
// at the density of the cold air, by a gap at the room's, which changes by less than 5 % here.
test.each([
  [30, 50],
  [30, 80],
  [15, 60],
  [21, 30],
])('a room of %d degC at %d %% brings water as psychrolib says', (atC, percent) => {
  const above = (t: number, p: number): number =>
    psychrolib.GetHumRatioFromRelHum(t, p / 100, 101_325) - psychrolib.GetHumRatioFromRelHum(-18, 1, 101_325);
  const { times, dewC, inKitchen, fromKitchen } = waterAt(atC);
  expect(times(percent) / (above(atC, percent) / above(21, 50))).toBeGreaterThan(0.95);
  expect(times(percent) / (above(atC, percent) / above(21, 50))).toBeLessThan(1.05);
  expect(Math.abs(dewC(percent) - psychrolib.GetTDewPointFromRelHum(atC, percent / 100))).toBeLessThan(0.01);
  if (inKitchen(percent) < 100) expect(fromKitchen(inKitchen(percent))).toBeCloseTo(percent, 1);
});

test('the ordinary kitchen brings as much as itself; a room drier than the freezer brings nothing', () => {
  expect(waterAt(21).times(50)).toBeCloseTo(1, 9);
  expect(waterAt(21).inKitchen(50)).toBeCloseTo(50, 1);
  expect(waterAt(-25).times(50)).toBe(0);
  expect(waterAt(21).dewC(0)).toBeCloseTo(-40, 6); // no dew point in bone-dry air; held at the lowest that is asked
});

test('before and after: 55 % is ordinary in a cool kitchen, damp in a hot one, and more so than without the thermometer', () => {
  expect(judged(AIR, { value: 55, unit: '%' }, room(18))).toMatchObject({ verdict: 'good' });
  const hot = judged(AIR, { value: 55, unit: '%' }, room(32));
  expect(hot).toMatchObject({ verdict: 'inconclusive', outcome: 'inconclusive-humid' });
  expect(hot.why).toMatch(/2\.\d times the usual water\. Dew point 7\d °F/);
  const move = (fault: string, percent: number, atC: number): number =>
    odds(fault, AIR, { value: percent, unit: '%' }, room(atC));
  for (const fault of ['moisture-load', 'gasket-failed', 'door-not-closing']) {
    expect(move(fault, 75, 32), fault).toBeGreaterThan(1.2);
    expect(move(fault, 8, 21), fault).toBeLessThan(0.8);
    expect(move(fault, 55, 32), fault).toBeGreaterThan(move(fault, 55, 18));
  }
  // bounded: however damp, one room reading decides nothing
  expect(odds('moisture-load', AIR, { value: 100, unit: '%' }, room(45))).toBeLessThan(5);
});

test('any room that can be measured is judged', () => {
  for (const atC of [-273.15, -80, -40, -5, 0, 25, 60, 5000])
    for (const value of [0, 0.001, 37, 100]) {
      const { expected, weights } = judged(AIR, { value, unit: '%' }, room(atC));
      const { low, high } = expected as { low: number; high: number };
      expect(low).toBeLessThanOrEqual(high);
      expect(high).toBeLessThanOrEqual(100);
      expect(weights?.every((w) => w >= 0 && w <= 1)).toBe(true);
    }
});
