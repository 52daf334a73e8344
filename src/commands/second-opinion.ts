/** Keeps what the second opinion on dangers has learnt beside the cache of the knowledge folder: learning takes longer. */
import type { Knowledge } from '../knowledge/facts.js';
import { cache } from '../knowledge/files.js';
import { LEARNING, type Learned } from '../safety/learn.js';
import { remember } from '../safety/opinion.js';

export function keepOpinion(knowledge: Knowledge): void {
  const key = `${knowledge.hash}-opinion-${LEARNING}`;
  remember(knowledge, {
    recall: () => {
      const kept = cache.read(key) as (Omit<Learned, 'weights'> & { readonly weights: string }) | null;
      if (kept === null) return null;
      const bytes = Buffer.from(kept.weights, 'base64');
      return { ...kept, weights: new Int8Array(bytes.buffer, bytes.byteOffset, bytes.length) };
    },
    keep: ({ weights, ...learned }) =>
      cache.write(key, { ...learned, weights: Buffer.from(weights.buffer).toString('base64') }),
  });
}
