// A thaw with the door open: how much water to be ready for, and for how many hours.

import { positive, within } from './domain.js';
import { heatToMeltJ } from './frost.js';

/** A layer of ice or frost: area in m2, thickness in m, density in kg/m3 (ice 917, frost about 50 to 400). */
export interface IceLayer {
  readonly areaM2: number;
  readonly thicknessM: number;
  readonly densityKgM3: number;
  readonly temperatureC: number;
}

/**
 * Mass of the layer in kg.
 * @throws RangeError when area or thickness is not positive, or the density not above 0 to 917 (solid ice)
 */
export function layerMassKg({ areaM2, thicknessM, densityKgM3 }: IceLayer): number {
  const density = within('densityKgM3', positive('densityKgM3', densityKgM3), 0, 917);
  return positive('areaM2', areaM2) * positive('thicknessM', thicknessM) * density;
}

/** Litres of water that the layer gives: one to the kilogram. @throws RangeError as layerMassKg */
export function meltWaterLitres(layer: IceLayer): number {
  return layerMassKg(layer);
}

/**
 * Heat that a room with still air brings to the ice, W/(m2 K): about 5 to 12. From memory: air 3 to 5, radiation from
 * the room up to 5, room moisture that condenses on the ice up to 2.
 */
export interface RoomHeat {
  readonly lowWM2K: number;
  readonly highWM2K: number;
}

export type ThawTime =
  { readonly kind: 'thaws'; readonly lowHours: number; readonly highHours: number } | { readonly kind: 'stays-frozen' };

/**
 * Hours until the layer is gone with the door open: its heat divided by h A (room - 0 degC), from the most to the least
 * that the room brings. One face of the layer takes the heat, all at 0 degC; the cabinet behind brings none.
 * @returns stays-frozen in a room at or below 0 degC
 * @throws RangeError when a coefficient is not positive, low is above high, or the layer is outside layerMassKg
 */
export function thawTime(layer: IceLayer, roomC: number, heat: RoomHeat): ThawTime {
  const joules = heatToMeltJ(layerMassKg(layer), layer.temperatureC);
  const low = within('lowWM2K', positive('lowWM2K', heat.lowWM2K), 0, positive('highWM2K', heat.highWM2K));
  if (within('roomC', roomC, -60, 60) <= 0) return { kind: 'stays-frozen' };
  const hours = (coefficient: number): number => joules / (coefficient * layer.areaM2 * roomC) / 3600;
  return { kind: 'thaws', lowHours: hours(heat.highWM2K), highHours: hours(low) };
}
