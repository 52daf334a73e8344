/**
 * What the files of frost and its melting may hold: how much frost a place has room for, what a thaw takes, what one
 * defrost can melt. Nothing here computes with them.
 */
import { z } from 'zod';
import { id, quantity } from './schema.js';

const above = (unit: string) => quantity.extend({ value: z.number().positive(), unit: z.literal(unit) });
const degrees = quantity.extend({ value: z.number().min(-60).max(60), unit: z.literal('degC') });

export const placesFile = z.strictObject({
  /** by the values of frost.location */
  areas: z.record(id, above('m2')),
  /** the evaporator's faces, and the systems whose faults ice them out of sight */
  coil: z.strictObject({ area: above('m2'), systems: z.array(id).min(1) }),
  /** by the values of frost.kind; solid ice has 917 */
  densities: z.record(id, quantity.extend({ value: z.number().positive().max(917), unit: z.literal('kg/m3') })),
  /** what is taken where the caller did not say */
  usual: z.strictObject({
    kind: id,
    thickness: above('mm'),
    room: degrees,
    frost: degrees.extend({ value: z.number().min(-60).max(0) }),
  }),
  thickest: above('mm'),
  /** what a room with still air brings to the ice */
  roomHeat: z
    .strictObject({ low: above('W/m2K'), high: above('W/m2K') })
    .refine(({ low, high }) => low.value <= high.value, { message: 'low must not be above high' }),
  /** remedies whose steps are a thaw */
  thaws: z.array(id).min(1),
  /** up to so much water a little, or some, has to be ready */
  water: z.strictObject({ little: above('L'), some: above('L') }),
});

export const defrostFile = z
  .strictObject({
    heater: above('W'),
    efficiency: quantity.extend({ value: z.number().gt(0).max(1), unit: z.literal('ratio') }),
    lasts: above('min'),
    shortest: quantity.extend({ value: z.number().min(6).max(12), unit: z.literal('h') }),
    longest: quantity.extend({ value: z.number().max(96), unit: z.literal('h') }),
  })
  .refine(({ shortest, longest }) => shortest.value < longest.value, {
    message: 'the longest time must be longer than the shortest',
    path: ['longest'],
  });
