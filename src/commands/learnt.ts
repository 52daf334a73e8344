/** Keeps what is learnt from the sentences of the knowledge folder beside its cache: learning takes longer than a start. */
import type { Knowledge } from '../knowledge/facts.js';
import { cache } from '../knowledge/files.js';
import { LEARNING, type Learned } from '../safety/learn.js';
import { remember } from '../safety/opinion.js';
import { keepIn } from '../understand/second-reader.js';

export function keepLearnt(knowledge: Knowledge): void {
  keepOpinion(knowledge);
  const key = `${knowledge.hash}-learnt`;
  keepIn(knowledge, { read: () => cache.read(key), write: (learnt) => cache.write(key, learnt) });
}

function keepOpinion(knowledge: Knowledge): void {
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
