/** What the files of the second opinion may hold: sentences to learn from, and how sure it has to be. */
import { z } from 'zod';
import { id, line, quantity } from './schema.js';

/** `id`: a hazard, or `ordinary` for what tells of none. */
export const lessonFile = z.strictObject({
  id,
  /** ways in which people tell of the danger; phrases need not hear them */
  danger: z.array(line).default([]),
  /** what only sounds like it */
  harmless: z.array(line).default([]),
});

const probability = quantity.extend({ value: z.number().min(0).max(1), unit: z.literal('probability') });

export const hearingFile = z
  .strictObject({
    /** from here on a danger is asked about though no phrase was heard */
    ask: probability,
    /** below this, words that are not plain are asked about before they are an alarm; by the level of the hazard */
    doubt: z.strictObject({ stop: probability, caution: probability }),
  })
  .refine(({ ask, doubt }) => doubt.stop.value <= doubt.caution.value && doubt.caution.value <= ask.value, {
    message: 'doubt rises from stop to caution, and not above ask',
  });
