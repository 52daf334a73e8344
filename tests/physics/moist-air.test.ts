import * as fc from 'fast-check';
// @ts-expect-error the package carries no types
import untypedPsychrolib from 'psychrolib';
import { describe, expect, test } from 'vitest';
import {
  doorOpeningWaterKg,
  dryAirDensityKgM3,
  frostOrDewPointC,
  humidityRatio,
  leakWaterKgPerHour,
  relativeHumidityPercent,
  saturationOverIcePa,
  saturationOverWaterPa,
  saturationPa,
  vapourOfRatioPa,
  vapourPa,
} from '../../src/physics/moist-air.js';

const psychrolib = untypedPsychrolib as {
  SI: number;
  SetUnitSystem(system: number): void;
  GetSatVapPres(celsius: number): number;
  GetHumRatioFromRelHum(celsius: number, humidity: number, pressure: number): number;
  GetTDewPointFromRelHum(celsius: number, humidity: number): number;
  GetRelHumFromVapPres(celsius: number, vapour: number): number;
  GetVapPresFromHumRatio(ratio: number, pressure: number): number;
  GetMoistAirDensity(celsius: number, ratio: number, pressure: number): number;
};
psychrolib.SetUnitSystem(psychrolib.SI);

const seaLevelPa = 101_325;
const off = (value: number, reference: number) => Math.abs(value / reference - 1);

/** Sublimation pressure of ice, IAPWS R14-08(2011), equation 6: an independent formula. */
function iapwsSublimationPa(kelvin: number): number {
  const theta = kelvin / 273.16;
  const terms: [number, number][] = [
    [-21.2144006, 0.00333333333],
    [27.3203819, 1.20666667],
    [-6.1059813, 1.70333333],
  ];
  return 611.657 * Math.exp(terms.reduce((sum, [a, b]) => sum + a * theta ** b, 0) / theta);
}

describe('saturation pressure', () => {
  test.each([
    [-20, 103.24],
    [-5, 401.74],
    [5, 872.6],
    [25, 3169.7],
    [50, 12_351.3],
    [100, 101_418],
    [150, 476_101.4],
  ])('ASHRAE Fundamentals 2017, chapter 1, table 3: %d degC within 300 ppm', (celsius, pascal) => {
    expect(off(saturationPa(celsius), pascal)).toBeLessThan(0.0003);
  });

  test('table 3: -60 degC', () => expect(Math.abs(saturationPa(-60) - 1.08)).toBeLessThan(0.01));

  test('IAPWS R14-08: 230 K is 8.94735 Pa, and the ASHRAE ice equation is within 0.1 % of it from -50 to 0 degC', () => {
    expect(iapwsSublimationPa(230)).toBeCloseTo(8.94735, 5);
    expect(off(saturationOverIcePa(230 - 273.15), 8.94735)).toBeLessThan(0.001);
    for (let celsius = -50; celsius <= 0; celsius += 1) {
      expect(off(saturationOverIcePa(celsius), iapwsSublimationPa(celsius + 273.15))).toBeLessThan(0.001);
    }
  });

  test('over ice, not over water: -20 degC is 103.2 Pa and not 126', () => {
    expect(saturationPa(-20)).toBeCloseTo(103.2, 0);
    expect(Math.abs(saturationPa(-20) - 126)).toBeGreaterThan(20);
    expect(() => saturationOverWaterPa(-20)).toThrow(RangeError);
  });

  test.each([
    // Alduchov & Eskridge, J. Appl. Meteor. 35 (1996) 601, equations 21 (water) and 23 (ice): a fit, good to 0.4 % (from memory)
    [-30, 6.1121, 22.587, 273.86],
    [-10, 6.1121, 22.587, 273.86],
    [4, 6.1094, 17.625, 243.04],
    [30, 6.1094, 17.625, 243.04],
  ])('Alduchov & Eskridge at %d degC', (celsius, hectopascal, a, b) => {
    expect(off(saturationPa(celsius), 100 * hectopascal * Math.exp((a * celsius) / (b + celsius)))).toBeLessThan(0.004);
  });

  test('ice and water meet at the triple point, 611.657 Pa (IAPWS)', () => {
    expect(off(saturationOverIcePa(0.01), 611.657)).toBeLessThan(0.0003);
    expect(off(saturationOverWaterPa(0.01), 611.657)).toBeLessThan(0.0003);
  });
});

describe('humidity ratio', () => {
  test.each([
    [-50, 0.0000243, 0.01],
    [-20, 0.0006373, 0.01],
    [-5, 0.0024863, 0.005],
    [5, 0.005425, 0.005],
    [25, 0.020173, 0.005],
    [50, 0.086863, 0.01],
  ])('ASHRAE Fundamentals 2017, chapter 1, table 2: saturated at %d degC', (celsius, ratio, tolerance) => {
    expect(off(humidityRatio(saturationPa(celsius), seaLevelPa), ratio)).toBeLessThan(tolerance);
  });

  test('PsychroLib test suite: 3169.7 Pa at 95 461 Pa is 0.0213604', () => {
    expect(humidityRatio(3169.7, 95_461)).toBeCloseTo(0.0213603998, 9);
  });

  test('25 degC and 50 % let 9.11 g of frost out of a kg of dry air at -18 degC', () => {
    const room = humidityRatio(vapourPa(25, 50), seaLevelPa);
    const coil = humidityRatio(saturationPa(-18), seaLevelPa);
    expect(room).toBeCloseTo(0.00988, 5);
    expect(1000 * (room - coil)).toBeCloseTo(9.11, 2);
  });

  test('refuses vapour at or above the air pressure', () => {
    expect(() => humidityRatio(seaLevelPa, seaLevelPa)).toThrow(RangeError);
    expect(() => humidityRatio(-1, seaLevelPa)).toThrow(/vapour/);
  });
});

describe('agrees with psychrolib 2.5.0 to 0.1 % from -40 to +50 degC', () => {
  const everyDegree = Array.from({ length: 91 }, (_, i) => i - 40);

  test.each([5, 20, 35, 50, 65, 80, 100])('at %d per cent relative humidity', (percent) => {
    for (const celsius of everyDegree) {
      const vapour = vapourPa(celsius, percent);
      const ratio = humidityRatio(vapour, seaLevelPa);
      expect(off(saturationPa(celsius), psychrolib.GetSatVapPres(celsius))).toBeLessThan(1e-9); // the same equations
      const reference = psychrolib.GetHumRatioFromRelHum(celsius, percent / 100, seaLevelPa);
      // psychrolib holds the ratio to at least 1e-7
      if (reference > 1e-7) expect(off(ratio, reference)).toBeLessThan(0.001);
      expect(off(relativeHumidityPercent(celsius, vapour) / 100, percent / 100)).toBeLessThan(1e-12);
      expect(off(psychrolib.GetRelHumFromVapPres(celsius, vapour), percent / 100)).toBeLessThan(0.001);
      const dew = psychrolib.GetTDewPointFromRelHum(celsius, percent / 100);
      expect(Math.abs(frostOrDewPointC(vapour) - dew)).toBeLessThan(0.002); // psychrolib stops at 0.001 K
      const moist = dryAirDensityKgM3(celsius, ratio, seaLevelPa) * (1 + ratio);
      expect(off(moist, psychrolib.GetMoistAirDensity(celsius, ratio, seaLevelPa))).toBeLessThan(0.001);
      expect(
        off(vapourOfRatioPa(reference, seaLevelPa), psychrolib.GetVapPresFromHumRatio(reference, seaLevelPa)),
      ).toBeLessThan(1e-9);
    }
  });
});

describe('frost and dew point', () => {
  test('PsychroLib: 25 degC and 80 % is 21.3094 degC; the pressure of -20 degC is -20.000', () => {
    expect(frostOrDewPointC(vapourPa(25, 80))).toBeCloseTo(21.3094, 3);
    expect(frostOrDewPointC(saturationPa(-20))).toBeCloseTo(-20, 6);
  });

  test('temperature to pressure and back', () => {
    fc.assert(
      fc.property(fc.double({ min: -60, max: 90, noNaN: true }), (celsius) => {
        expect(Math.abs(frostOrDewPointC(saturationPa(celsius)) - celsius)).toBeLessThan(0.003); // ice and water part at 0.01
      }),
    );
  });

  test('dry air has none', () => expect(() => frostOrDewPointC(0)).toThrow(RangeError));
});

describe('water through the door', () => {
  // Cengel & Boles, Thermodynamics, chapter 6: 0.6 m3 of air, half of it replaced 20 times a day, the kitchen air
  // 0.006 kg/kg moister, 95 kPa, box at 4 degC. Dry air, as there.
  const inside = { temperatureC: 4, ratio: 0 };
  const room = { temperatureC: 20, ratio: 0.006 };
  const opening = doorOpeningWaterKg(0.6, 0.5, room, inside, 95_000);

  test('Cengel & Boles: 1.195 kg/m3, 2617 kg of air and 15.70 kg of water a year, 2.15 g an opening', () => {
    const density = dryAirDensityKgM3(4, 0, 95_000);
    expect(density).toBeCloseTo(1.195, 2);
    expect(off(density * 0.6 * 0.5 * 20 * 365, 2617)).toBeLessThan(0.002); // the book rounds R and 273
    expect(off(opening * 20 * 365, 15.7)).toBeLessThan(0.002);
    expect(opening * 1000).toBeCloseTo(2.15, 2);
  });

  test('at the density of the kitchen air it would be 2.03 g: the cold air is the one used', () => {
    expect(dryAirDensityKgM3(20, 0, 95_000) * 0.3 * 0.006 * 1000).toBeCloseTo(2.03, 2);
  });

  test('a dry room takes water out; nothing exchanged, nothing carried', () => {
    expect(
      doorOpeningWaterKg(0.6, 0.5, { temperatureC: 20, ratio: 0.001 }, { temperatureC: 4, ratio: 0.005 }, 95_000),
    ).toBeLessThan(0);
    expect(doorOpeningWaterKg(0.6, 0, room, inside, 95_000)).toBe(0);
    expect(() => doorOpeningWaterKg(0.6, 50, room, inside, 95_000)).toThrow(/exchangedShare/);
  });

  test('a leak of 1 m3/h of 25 degC, 50 % air at a -18 degC coil: 1.18 kg of dry air an hour, 9.1 g a kg', () => {
    const wet = { temperatureC: 25, ratio: humidityRatio(vapourPa(25, 50), seaLevelPa) };
    const coil = { temperatureC: -18, ratio: humidityRatio(saturationPa(-18), seaLevelPa) };
    const independent = ((seaLevelPa - 0.5 * 3169.7) / (287.042 * 298.15)) * 0.00911;
    expect(off(leakWaterKgPerHour(1, wet, coil, seaLevelPa), independent)).toBeLessThan(0.001);
    expect(leakWaterKgPerHour(0, wet, coil, seaLevelPa)).toBe(0);
    expect(() => leakWaterKgPerHour(-1, wet, coil, seaLevelPa)).toThrow(RangeError);
  });
});

test('density of dry air, ASHRAE table 2: 0.8443 m3/kg at 25 degC; moist, PsychroLib: 1.08412 at 30 degC, 0.02', () => {
  expect(off(dryAirDensityKgM3(25, 0, seaLevelPa), 1 / 0.8443)).toBeLessThan(0.001);
  expect(off(dryAirDensityKgM3(30, 0.02, 95_461) * 1.02, 1.08411986)).toBeLessThan(0.0003);
});
