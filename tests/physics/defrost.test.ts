import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { heatingTimeS, runHoursBetweenDefrosts, timedDefrost } from '../../src/physics/defrost.js';
import { heatToMeltJ } from '../../src/physics/frost.js';

// 30.3 %: Bansal, Fothergill & Fernandes, Int. J. Refrigeration 33 (2010) 589-599. 450 W: from memory.
const heater = { powerW: 450, efficiency: 0.303 };
const minutes = (frostKg: number) => heatingTimeS(heatToMeltJ(frostKg, -20), heater) / 60;

describe('one timed defrost', () => {
  test('200 g from -20 degC: 68.9 Wh and 9.2 min; 500 g: 172 Wh and 22.9 min; 1 kg: 46 min', () => {
    expect(heatToMeltJ(0.2, -20) / 0.303 / 3600).toBeCloseTo(68.9, 1);
    expect(minutes(0.2)).toBeCloseTo(9.2, 1);
    expect(heatToMeltJ(0.5, -20) / 0.303 / 3600).toBeCloseTo(172, 0);
    expect(minutes(0.5)).toBeCloseTo(23, 1);
    expect(minutes(1)).toBeCloseTo(46, 0);
  });

  test('25 minutes clear 500 g and leave 46 % of 1 kg: ice builds up', () => {
    expect(timedDefrost(0.5, -20, heater, 25 * 60)).toMatchObject({ kind: 'clears' });
    const heavy = timedDefrost(1, -20, heater, 25 * 60);
    if (heavy.kind !== 'leaves') throw new Error(heavy.kind);
    expect(heavy.frostKg).toBeCloseTo(1 - 25 / minutes(1), 9);
    expect(heavy.frostKg).toBeCloseTo(0.456, 2);
    const exactlyS = minutes(0.5) * 60;
    expect(timedDefrost(0.5, -20, heater, exactlyS)).toEqual({ kind: 'clears', takesS: exactlyS });
  });

  test('what is left is never more than there was, and a longer defrost leaves less', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 5, noNaN: true }),
        fc.double({ min: 60, max: 3600, noNaN: true }),
        (frostKg, limitS) => {
          const left = (seconds: number) => {
            const outcome = timedDefrost(frostKg, -20, heater, seconds);
            return outcome.kind === 'leaves' ? outcome.frostKg : 0;
          };
          expect(left(limitS)).toBeLessThan(frostKg);
          expect(left(limitS * 1.5)).toBeLessThanOrEqual(left(limitS));
        },
      ),
    );
  });

  test('an efficiency in per cent is refused', () => {
    expect(() => heatingTimeS(1000, { powerW: 450, efficiency: 30.3 })).toThrow(/efficiency/);
    expect(() => heatingTimeS(1000, { powerW: 0, efficiency: 0.3 })).toThrow(/powerW/);
    expect(() => timedDefrost(0.2, -20, heater, 0)).toThrow(/limitS/);
  });
});

describe('run time between defrosts: 10 CFR 430 subpart B appendix A, section 5.2.1.3', () => {
  test('the default of the regulation, 6 and 96 h, is 24.0 h', () => {
    expect(runHoursBetweenDefrosts()).toBeCloseTo(24, 9);
    expect(runHoursBetweenDefrosts(6, 96)).toBeCloseTo(24, 9);
  });

  test.each([
    [12, 84, 38.2],
    [8, 96, 30.0],
    [12, 96, 40.0],
    [10, 50, 27.8],
  ])('%d and %d h: %d h', (shortest, longest, expected) => {
    expect(runHoursBetweenDefrosts(shortest, longest)).toBeCloseTo(expected, 1);
    expect(runHoursBetweenDefrosts(shortest, longest)).toBeCloseTo(
      1 / (0.2 / shortest + 0.8 / longest), // the same rule as a weighted harmonic mean
      9,
    );
  });

  test('held to 6 to 12 and 96 h, in tenths of an hour', () => {
    expect(runHoursBetweenDefrosts(4, 96)).toBe(runHoursBetweenDefrosts(6, 96));
    expect(runHoursBetweenDefrosts(20, 96)).toBe(runHoursBetweenDefrosts(12, 96));
    expect(runHoursBetweenDefrosts(6, 200)).toBe(runHoursBetweenDefrosts(6, 96));
    expect(runHoursBetweenDefrosts(8.04, 50.01)).toBe(runHoursBetweenDefrosts(8, 50));
    expect(runHoursBetweenDefrosts(8.06, 50)).toBe(runHoursBetweenDefrosts(8.1, 50));
  });

  test('a longest time that is not longer is refused', () => {
    expect(() => runHoursBetweenDefrosts(8, 8)).toThrow(/longestH - shortestH/);
    expect(() => runHoursBetweenDefrosts(4, 5)).toThrow(RangeError); // the shortest is held to 6
    expect(() => runHoursBetweenDefrosts(0, 96)).toThrow(/shortestH/);
  });
});
