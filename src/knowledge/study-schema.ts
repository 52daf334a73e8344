/** What the file of the study may hold: what made-up callers say and know, and the checklist to compare with. */
import { z } from 'zod';
import { quantity } from './schema.js';

const chance = quantity.extend({ value: z.number().min(0).max(1), unit: z.literal('chance') });
const shares = z
  .record(z.string(), z.number().min(0).max(1))
  .refine((all) => Math.abs(Object.values(all).reduce((s, p) => s + p, 0) - 1) < 1e-9, {
    message: 'the shares of the answers must sum to 1',
  });
const both = <S extends z.ZodType>(of: S) => z.strictObject({ homeowner: of, technician: of });
const ids = z.array(z.string());

export const studyFile = z.strictObject({
  /** findings that a caller tells unasked */
  told: both(ids),
  notSure: both(chance),
  /** what is harder to see or to know at home */
  hardAtHome: z.record(z.string(), chance),
  /** of findings without a likelihood: how often each value is answered */
  answers: z.record(z.string(), both(shares)),
  /** log-normal, on every number of another model */
  noise: quantity.extend({ value: z.number().positive(), unit: z.literal('1') }),
  /** findings and readings in the order of a plain printed checklist */
  checklist: ids.min(1),
});
