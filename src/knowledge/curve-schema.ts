/**
 * What a sensor curve file may hold: how many ohms a temperature sensor shows at which temperature. One strict schema;
 * nothing here computes with a curve.
 */
import { z } from 'zod';
import { id, quantity, sourceKind } from './schema.js';

const ohms = z.number().positive();
const celsius = z.number().gt(-273.15);
const percent = quantity.extend({ value: z.number().min(0).max(50), unit: z.literal('%') });

/** Rows run from cold to warm. `min` and `max` are the maker's own limits; where one row has them, every row has. */
const ohmRow = z.strictObject({ atC: celsius, ohm: ohms, min: ohms.optional(), max: ohms.optional() });
/** R / R25, for a material that is made in several resistances. */
const ratioRow = z.strictObject({ atC: celsius, ratio: z.number().positive() });

const table = z
  .array(ohmRow)
  .min(3)
  .superRefine((rows, ctx) => {
    falls(
      rows.map((row) => ({ atC: row.atC, value: row.ohm })),
      ctx,
    );
    const limited = rows.filter((row) => row.min !== undefined && row.max !== undefined).length;
    rows.forEach((row, i) => {
      if ((row.min === undefined) !== (row.max === undefined) || (limited > 0 && limited < rows.length))
        ctx.addIssue({ code: 'custom', path: [i], message: 'min and max belong in every row or in none' });
      if ((row.min ?? row.ohm) > row.ohm || row.ohm > (row.max ?? row.ohm))
        ctx.addIssue({ code: 'custom', path: [i], message: 'ohm must lie between min and max' });
    });
  });

const ratios = z
  .array(ratioRow)
  .min(3)
  .superRefine((rows, ctx) =>
    falls(
      rows.map((row) => ({ atC: row.atC, value: row.ratio })),
      ctx,
    ),
  );

const fourTerms = z.tuple([z.number(), z.number(), z.number(), z.number()]);

/** The maker's own equation, beside the rows; the rows are its span. T in kelvin, R in ohm. */
const equation = z.union([
  /** 1/T = a + b ln R + c (ln R)^3 */
  z.strictObject({ form: z.literal('steinhart-hart'), a: z.number(), b: z.number(), c: z.number() }),
  /** ln(R/R25) = A + B/T + C/T^2 + D/T^3 and 1/T = a + b x + c x^2 + d x^3, x = ln(R/R25) */
  z.strictObject({ form: z.literal('ratio'), toRatio: fourTerms, fromRatio: fourTerms }),
]);

/** How far a good sensor may stray: of R25 and of Beta in percent, or in kelvin at any temperature. */
const tolerance = z.union([
  z.strictObject({ r25Percent: percent, betaPercent: percent }),
  z.strictObject({ kelvin: quantity.extend({ value: z.number().positive(), unit: z.literal('K') }) }),
]);

/** One curve: `table` rows in ohm, or `ratios` to R25; exactly one of the two. */
export const curveFile = z
  .strictObject({
    id,
    title: z.string().trim().min(1),
    /** resistance at 25 degC */
    r25: quantity.extend({ value: ohms, unit: z.literal('ohm') }),
    /** between 25 and 85 degC where nothing else is said; for the tolerance, never for a freezer's ohms */
    beta: quantity.extend({ value: z.number().positive(), unit: z.literal('K') }),
    table: table.optional(),
    ratios: ratios.optional(),
    equation: equation.optional(),
    tolerance,
    source: sourceKind,
    ref: id.optional(),
    note: z.string().trim().min(1).optional(),
  })
  .superRefine((curve, ctx) => {
    if ((curve.table === undefined) === (curve.ratios === undefined))
      ctx.addIssue({ code: 'custom', path: ['table'], message: 'a curve has either "table" or "ratios"' });
  });

function falls(rows: readonly { atC: number; value: number }[], ctx: z.RefinementCtx): void {
  rows.forEach((row, i) => {
    const colder = rows[i - 1];
    if (colder && (row.atC <= colder.atC || row.value >= colder.value))
      ctx.addIssue({
        code: 'custom',
        path: [i],
        message: 'rows run from cold to warm, with fewer ohms from row to row',
      });
  });
}
