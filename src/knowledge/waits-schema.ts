/** What the file of waits may hold: how long an escalation and a quiet case may wait, and when nobody is asked. */
import { z } from 'zod';
import { quantity } from './schema.js';

const above = (unit: string) => quantity.extend({ value: z.number().positive(), unit: z.literal(unit) });
const clock = quantity.extend({ value: z.number().int().min(0).max(23), unit: z.literal("o'clock") });

const count = quantity.extend({ value: z.number().int().positive(), unit: z.literal('messages') });

export const waitsFile = z.strictObject({
  /** by the urgency of an escalation, until somebody claims it */
  overdue: z
    .strictObject({ now: above('min'), today: above('min'), routine: above('min') })
    .refine(({ now, today, routine }) => now.value <= today.value && today.value <= routine.value, {
      message: 'the more urgent must not wait longer',
    }),
  afterRepair: above('h'),
  /** counted from the advice, the earlier first */
  afterThaw: z
    .array(above('h'))
    .min(1)
    .refine((waits) => waits.every((w, i) => i === 0 || w.value > (waits[i - 1]?.value ?? 0)), {
      message: 'the earlier stands first',
    }),
  quiet: above('h'),
  /** counted from the last question that stayed unanswered */
  unanswered: above('h'),
  /** of one person: how many messages may wait, and how many are taken up in a minute */
  flood: z.strictObject({ waiting: count, perMinute: count }),
  night: z.strictObject({ from: clock, to: clock }).refine(({ from, to }) => from.value > to.value, {
    message: 'a night begins in the evening and ends in the morning',
  }),
});
