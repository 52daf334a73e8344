// The water in air: how much it can hold over ice and over water, where it frosts, and how much a door or a bad gasket
// lets in. Source of the equations: ASHRAE Handbook - Fundamentals 2017, chapter 1 (numbers below).

import { positive, within } from './domain.js';
import { kelvins } from './units.js';

const TRIPLE_POINT_C = 0.01;
const LOWEST_C = -100;
const HIGHEST_C = 200;
const WATER_TO_AIR = 0.621945; // ratio of molar masses, eq. 20
const DRY_AIR_J_PER_KG_K = 287.042; // gas constant, eq. 1

/**
 * Saturation pressure over ice in Pa, eq. 5: -100 to 0.01 degC.
 * @throws RangeError outside that range
 */
export function saturationOverIcePa(temperatureC: number): number {
  const t = kelvins(within('temperatureC', temperatureC, LOWEST_C, TRIPLE_POINT_C));
  const bend = -9.677843e-3 + t * (6.2215701e-7 + t * (2.0747825e-9 - t * 9.484024e-13));
  return Math.exp(-5.6745359e3 / t + 6.3925247 + t * bend + 4.1635019 * Math.log(t));
}

/**
 * Saturation pressure over liquid water in Pa, eq. 6: 0 to 200 degC.
 * @throws RangeError outside that range
 */
export function saturationOverWaterPa(temperatureC: number): number {
  const t = kelvins(within('temperatureC', temperatureC, 0, HIGHEST_C));
  const bend = -4.8640239e-2 + t * (4.1764768e-5 - t * 1.4452093e-8);
  return Math.exp(-5.8002206e3 / t + 1.3914993 + t * bend + 6.5459673 * Math.log(t));
}

/**
 * Saturation pressure in Pa, over ice up to the triple point (0.01 degC) and over water above it: -100 to 200 degC.
 * @throws RangeError outside that range
 */
export function saturationPa(temperatureC: number): number {
  return temperatureC <= TRIPLE_POINT_C ? saturationOverIcePa(temperatureC) : saturationOverWaterPa(temperatureC);
}

/**
 * Vapour pressure in Pa of air at a temperature (-100 to 200 degC) and a relative humidity (0 to 100 %, over ice below
 * freezing), eq. 22.
 * @throws RangeError outside those ranges
 */
export function vapourPa(temperatureC: number, humidityPercent: number): number {
  return (within('humidityPercent', humidityPercent, 0, 100) / 100) * saturationPa(temperatureC);
}

/**
 * Relative humidity in % of a vapour pressure (Pa) at a temperature; above 100 where frost or dew forms, eq. 22.
 * @throws RangeError when the pressure is negative or the temperature outside -100 to 200 degC
 */
export function relativeHumidityPercent(temperatureC: number, vapour: number): number {
  return (100 * within('vapour', vapour, 0, Infinity)) / saturationPa(temperatureC);
}

/**
 * Humidity ratio, kg of water to a kg of dry air, from the vapour pressure and the air pressure in Pa, eq. 20.
 * @throws RangeError when the air pressure is not positive, or the vapour pressure not from 0 to below it
 */
export function humidityRatio(vapour: number, pressurePa: number): number {
  within('vapour', vapour, 0, positive('pressurePa', pressurePa) * (1 - Number.EPSILON));
  return (WATER_TO_AIR * vapour) / (pressurePa - vapour);
}

/**
 * The other way round: vapour pressure in Pa of a humidity ratio (kg/kg, 0 to 1) at an air pressure in Pa, eq. 20.
 * @throws RangeError when the air pressure is not positive or the ratio not from 0 to 1
 */
export function vapourOfRatioPa(ratio: number, pressurePa: number): number {
  return (positive('pressurePa', pressurePa) * within('ratio', ratio, 0, 1)) / (WATER_TO_AIR + ratio);
}

/**
 * The temperature in degC below which a vapour pressure (Pa) leaves the air: as frost below 0.01 degC, as dew above.
 * The saturation equations solved by bisection to 1e-9 K.
 * @throws RangeError outside the saturation pressures of -100 to 200 degC
 */
export function frostOrDewPointC(vapour: number): number {
  within('vapour', vapour, saturationPa(LOWEST_C), saturationPa(HIGHEST_C));
  let [low, high] = [LOWEST_C, HIGHEST_C];
  while (high - low > 1e-9) {
    const middle = (low + high) / 2;
    if (saturationPa(middle) < vapour) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/**
 * Mass of dry air in a m3 of moist air, kg: p / (R T (1 + W / 0.621945)), eq. 26 turned over.
 * @throws RangeError when pressure or absolute temperature is not positive, or the ratio negative
 */
export function dryAirDensityKgM3(temperatureC: number, ratio: number, pressurePa: number): number {
  const swelling = 1 + within('ratio', ratio, 0, 1) / WATER_TO_AIR;
  return positive('pressurePa', pressurePa) / (DRY_AIR_J_PER_KG_K * kelvins(temperatureC) * swelling);
}

/** Air by its temperature and humidity ratio. */
export interface MoistAir {
  readonly temperatureC: number;
  readonly ratio: number;
}

/**
 * Water in kg that one door opening leaves inside: the share of the compartment's air that is exchanged (0 to 1), at
 * the density of the cold air, since the room air shrinks and draws more after it (Cengel & Boles, Thermodynamics,
 * chapter 6, the refrigerator with 20 openings a day). Below 0 where the room is drier than the compartment.
 * @throws RangeError when the volume (m3) is not positive or the share not from 0 to 1
 */
export function doorOpeningWaterKg(
  airVolumeM3: number,
  exchangedShare: number,
  room: MoistAir,
  inside: MoistAir,
  pressurePa: number,
): number {
  const exchangedM3 = positive('airVolumeM3', airVolumeM3) * within('exchangedShare', exchangedShare, 0, 1);
  const density = dryAirDensityKgM3(inside.temperatureC, inside.ratio, pressurePa);
  return exchangedM3 * density * (room.ratio - inside.ratio);
}

/**
 * Water in kg an hour that a steady leak of room air (m3/h, at the room's density) leaves inside.
 * @throws RangeError when the flow is negative or not finite
 */
export function leakWaterKgPerHour(
  flowM3PerHour: number,
  room: MoistAir,
  inside: MoistAir,
  pressurePa: number,
): number {
  const density = dryAirDensityKgM3(room.temperatureC, room.ratio, pressurePa);
  return within('flowM3PerHour', flowM3PerHour, 0, 1e6) * density * (room.ratio - inside.ratio);
}
