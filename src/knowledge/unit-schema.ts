/**
 * What a unit family's file may hold: the values on its tech sheet, which outrank common practice once a caller names
 * the family. Every block is optional: a timer unit has no sensor. Nothing here judges with them.
 */
import { z } from 'zod';
import { id, quantity, sourceKind } from './schema.js';

const line = z.string().trim().min(1);
const above = (unit: string) => quantity.extend({ value: z.number().positive(), unit: z.literal(unit) });
const degrees = quantity.extend({ unit: z.literal('degC') });

/** One point of the tech sheet. */
const point = z.strictObject({ atC: z.number().gt(-273.15), ohm: z.number().positive() });

/** A curve of the curves folder, or the points that the tech sheet prints, from cold to warm. */
const sensor = z.union([
  z.strictObject({ curve: id }),
  z.strictObject({
    points: z
      .array(point)
      .min(1)
      .superRefine((points, ctx) => {
        points.forEach((p, i) => {
          const colder = points[i - 1];
          if (colder && (p.atC <= colder.atC || p.ohm >= colder.ohm))
            ctx.addIssue({
              code: 'custom',
              path: [i],
              message: 'points run from cold to warm, with fewer ohms from point to point',
            });
        });
      }),
    source: sourceKind,
    ref: id.optional(),
  }),
]);

export const unitFile = z.strictObject({
  id,
  title: line,
  /** how people write the name of the family */
  says: z.array(line).min(1),
  sensor: sensor.optional(),
  heater: z.strictObject({ power: above('W'), voltage: above('V') }).optional(),
  /** opens on the way up; closes again `differentialC` lower */
  thermostat: z.strictObject({ opensC: degrees, differentialC: above('K') }).optional(),
  timer: z.strictObject({ coolingHours: above('h'), defrostMinutes: above('min') }).optional(),
});
