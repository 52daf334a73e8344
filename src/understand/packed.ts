/** What was learnt, small enough to be read at a start: weights as bytes, traits as one text. */
import { z } from 'zod';
import type { Learnt } from './linear.js';

const packedForm = z.strictObject({
  form: z.literal(2),
  labels: z.array(z.string()),
  bias: z.array(z.number()),
  /** one a line */
  traits: z.string(),
  /** base64, two bytes each: how many pairs a trait has */
  counts: z.string(),
  /** base64: of each pair the label's place in two bytes, then the weight in one */
  pairs: z.string(),
});
export type Packed = z.output<typeof packedForm>;

/** of a weight of one; weights reach from -6.3 to 6.3 */
const SCALE = 20;

export function packed({ labels, bias, traits, starts, at, weight }: Learnt): Packed {
  let counts = '';
  let pairs = '';
  traits.forEach((_, t) => {
    const [from, to] = [starts[t] ?? 0, starts[t + 1] ?? 0];
    counts += String.fromCharCode((to - from) >> 8, (to - from) & 255);
    for (let i = from; i < to; i += 1) {
      const byte = 128 + Math.max(-127, Math.min(127, Math.round((weight[i] ?? 0) * SCALE)));
      pairs += String.fromCharCode((at[i] ?? 0) >> 8, (at[i] ?? 0) & 255, byte);
    }
  });
  return {
    form: 2,
    labels: [...labels],
    bias: [...bias],
    traits: traits.join('\n'),
    counts: btoa(counts),
    pairs: btoa(pairs),
  };
}

/** null where it is no such thing: then it is learnt anew. */
export function unpacked(kept: unknown): Learnt | null {
  const read = packedForm.safeParse(kept);
  if (!read.success) return null;
  const traits = read.data.traits.split('\n');
  const counts = atob(read.data.counts);
  const pairs = atob(read.data.pairs);
  const n = pairs.length / 3;
  const starts = new Uint32Array(traits.length + 1);
  for (let t = 0; t < traits.length; t += 1)
    starts[t + 1] = (starts[t] ?? 0) + (counts.charCodeAt(2 * t) << 8) + counts.charCodeAt(2 * t + 1);
  if (starts[traits.length] !== n) return null;
  const at = new Uint16Array(n);
  const weight = new Float32Array(n);
  for (let i = 0; i < n; i += 1) {
    at[i] = (pairs.charCodeAt(3 * i) << 8) | pairs.charCodeAt(3 * i + 1);
    weight[i] = (pairs.charCodeAt(3 * i + 2) - 128) / SCALE;
  }
  return { labels: read.data.labels, bias: Float32Array.from(read.data.bias), traits, starts, at, weight };
}
