// How much water the room's air brings into a freezer in a day, by the door and by a gap in its seal, against an
// ordinary kitchen. Warm air at the same humidity holds more water, so 60 % in a hot room is damper than 60 % in a cool one.

import {
  doorOpeningWaterKg,
  frostOrDewPointC,
  humidityRatio,
  leakWaterKgPerHour,
  relativeHumidityPercent,
  saturationPa,
  vapourOfRatioPa,
  vapourPa,
} from '../physics/moist-air.js';
import { latest } from './mains.js';
import { numberOf } from './numbers.js';
import type { Setting } from './opinion.js';

/** Numbers that stand with the room's humidity. */
export const ROOM_WATER_NUMBERS = {
  'kitchen-at': 'degC',
  'kitchen-humidity': '%',
  'inside-at': 'degC',
  'air-pressure': 'Pa',
  'freezer-air': 'm3',
  'air-swapped': 'ratio',
  openings: 'per-day',
  'gap-flow': 'm3/h',
} as const;

export interface RoomWater {
  /** water against that of the ordinary kitchen, 0 where the room is drier than the freezer */
  readonly times: (percent: number) => number;
  /** the humidity in % at which an ordinary kitchen brings as much water; above 100 in a hot and damp room */
  readonly inKitchen: (percent: number) => number;
  /** the other way round: this room's humidity in % that brings as much water as the kitchen at `percent` */
  readonly fromKitchen: (percent: number) => number;
  /** below this temperature in degC the room's water settles, as dew or frost */
  readonly dewC: (percent: number) => number;
}

const ROOM = 'room.temperature';
/** No room where people live is outside these, degC. */
const COLDEST_C = -40;
const HOTTEST_C = 60;
/** A small difference in kg/kg that gives the slope of water against the humidity ratio. */
const STEP = 0.005;
const HOURS = 24;

/** By the room's measured temperature, or the kitchen's where nobody measured it. */
export function roomWater({ reading, others }: Setting): RoomWater {
  const kitchenC = numberOf(reading, 'kitchen-at', 'degC');
  const measured = latest(others, ROOM)?.value;
  const roomC = typeof measured === 'number' ? Math.min(Math.max(measured, COLDEST_C), HOTTEST_C) : kitchenC;
  const pressure = numberOf(reading, 'air-pressure', 'Pa');
  const insideC = numberOf(reading, 'inside-at', 'degC');
  const inside = { temperatureC: insideC, ratio: humidityRatio(saturationPa(insideC), pressure) };
  const volume = numberOf(reading, 'freezer-air', 'm3');
  const share = numberOf(reading, 'air-swapped', 'ratio');
  const openings = numberOf(reading, 'openings', 'per-day');
  const flow = numberOf(reading, 'gap-flow', 'm3/h');

  const aDayKg = (temperatureC: number, ratio: number): number => {
    const room = { temperatureC, ratio };
    return (
      openings * doorOpeningWaterKg(volume, share, room, inside, pressure) +
      HOURS * leakWaterKgPerHour(flow, room, inside, pressure)
    );
  };
  const ratioAt = (temperatureC: number, percent: number): number =>
    humidityRatio(vapourPa(temperatureC, percent), pressure);
  const water = (temperatureC: number, percent: number): number => aDayKg(temperatureC, ratioAt(temperatureC, percent));
  /** The humidity in % at which a room of this temperature brings so much water a day. */
  const percentFor = (temperatureC: number, kilograms: number): number => {
    // Nearly a straight line; the second guess is good to a thousandth. Air that takes water out counts as bringing none.
    const brought = Math.max(0, kilograms);
    const first = brought / (aDayKg(temperatureC, inside.ratio + STEP) / STEP) || STEP;
    const above = brought / (aDayKg(temperatureC, inside.ratio + first) / first);
    const ratio = Math.min(1, Math.max(0, inside.ratio + above));
    return relativeHumidityPercent(temperatureC, vapourOfRatioPa(ratio, pressure));
  };
  const usual = water(kitchenC, numberOf(reading, 'kitchen-humidity', '%'));
  return {
    times: (percent) => Math.max(0, water(roomC, percent) / usual),
    inKitchen: (percent) => percentFor(kitchenC, water(roomC, percent)),
    fromKitchen: (percent) => Math.min(100, percentFor(roomC, water(kitchenC, percent))),
    dewC: (percent) => frostOrDewPointC(Math.max(vapourPa(roomC, percent), saturationPa(COLDEST_C))),
  };
}
