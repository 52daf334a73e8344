/**
 * A linear reader that is taught by examples: for each label, how much every trait speaks for it or against it
 * (logistic regression, one label against all others; steps by AdaGrad: J. Duchi, E. Hazan, Y. Singer, "Adaptive
 * subgradient methods for online learning and stochastic optimization", JMLR 12 (2011) 2121-2159). It knows nothing of
 * words, and learns the same from the same examples.
 */

/** One example: its traits, each once, and the labels it bears. */
export interface Lesson {
  readonly traits: readonly string[];
  readonly labels: readonly string[];
}

/** What was learnt: of trait `t` the pairs from `starts[t]` to `starts[t + 1]`, a label's place and how much it speaks for it. */
export interface Learnt {
  readonly labels: readonly string[];
  readonly bias: Float32Array;
  readonly traits: readonly string[];
  readonly starts: Uint32Array;
  readonly at: Uint16Array;
  readonly weight: Float32Array;
}

const ROUNDS = 4;
const STEP = 0.5;
/** of the step, for the bias */
const BIAS_STEP = 0.3;
const START_BIAS = -4;
/** squares are counted from here, so that the first steps are no leaps */
const FIRST_SQUARE = 0.01;
/** an error this small is not worth a step */
const CLOSE = 0.04;
/** a lesson without a larger error is not read again */
const WELL = 0.15;
/** a weight this small is left out */
const SLIGHT = 0.2;
/** a trait in fewer lessons teaches by heart; one of two words sooner */
const SELDOM = 2;
const SELDOM_TOGETHER = 3;

export function learn(lessons: readonly Lesson[]): Learnt {
  const labels = [...new Set(lessons.flatMap((l) => l.labels))].sort();
  const traits = traitsWorthLearning(lessons);
  const labelAt = new Map(labels.map((l, i) => [l, i]));
  const traitAt = new Map(traits.map((t, i) => [t, i]));
  const width = labels.length;
  const weights = new Float32Array(traits.length * width);
  const squares = new Float32Array(traits.length * width).fill(FIRST_SQUARE);
  const bias = new Float32Array(width).fill(START_BIAS);
  const biasSquares = new Float32Array(width).fill(FIRST_SQUARE);
  const scores = new Float32Array(width);
  const rows = lessons
    .map((l) => ({
      at: Uint32Array.from(l.traits.flatMap((t) => traitAt.get(t) ?? [])),
      wanted: new Set(l.labels.map((x) => labelAt.get(x) ?? -1)),
      /** nothing is left to be learnt from it */
      knows: false,
    }))
    .filter((row) => row.at.length > 0);
  for (let round = 0; round < ROUNDS; round += 1)
    for (const row of shuffled(rows, round)) {
      if (row.knows) continue;
      const x = 1 / Math.sqrt(row.at.length);
      scores.set(bias);
      for (const t of row.at)
        for (let c = 0, i = t * width; c < width; c += 1, i += 1) scores[c] = (scores[c] ?? 0) + x * (weights[i] ?? 0);
      row.knows = true;
      for (let c = 0; c < width; c += 1) {
        const error = 1 / (1 + Math.exp(-(scores[c] ?? 0))) - (row.wanted.has(c) ? 1 : 0);
        if (Math.abs(error) < CLOSE) continue;
        if (Math.abs(error) >= WELL) row.knows = false;
        const slope = error * x;
        for (const t of row.at) {
          const i = t * width + c;
          const square = (squares[i] ?? 0) + slope * slope;
          squares[i] = square;
          weights[i] = (weights[i] ?? 0) - (STEP * slope) / Math.sqrt(square);
        }
        const square = (biasSquares[c] ?? 0) + error * error;
        biasSquares[c] = square;
        bias[c] = (bias[c] ?? 0) - (BIAS_STEP * STEP * error) / Math.sqrt(square);
      }
    }
  return { labels, bias, ...telling(traits, weights, width) };
}

function traitsWorthLearning(lessons: readonly Lesson[]): string[] {
  const counts = new Map<string, number>();
  for (const l of lessons) for (const t of l.traits) counts.set(t, (counts.get(t) ?? 0) + 1);
  return [...counts].filter(([t, n]) => n >= (t.includes(' ') ? SELDOM_TOGETHER : SELDOM)).map(([t]) => t);
}

/** The weights that say something, trait by trait. */
function telling(
  traits: readonly string[],
  weights: Float32Array,
  width: number,
): Pick<Learnt, 'traits' | 'starts' | 'at' | 'weight'> {
  const kept: string[] = [];
  const starts = [0];
  const at: number[] = [];
  const weight: number[] = [];
  traits.forEach((trait, t) => {
    for (let c = 0; c < width; c += 1) {
      const w = weights[t * width + c] ?? 0;
      if (Math.abs(w) < SLIGHT) continue;
      at.push(c);
      weight.push(w);
    }
    if (at.length === starts.at(-1)) return;
    kept.push(trait);
    starts.push(at.length);
  });
  return {
    traits: kept,
    starts: Uint32Array.from(starts),
    at: Uint16Array.from(at),
    weight: Float32Array.from(weight),
  };
}

/** In another order each round, always the same ones (a linear congruential generator, ANSI C's constants). */
function shuffled<T>(rows: readonly T[], round: number): T[] {
  const out = [...rows];
  let seed = round + 1;
  for (let i = out.length - 1; i > 0; i -= 1) {
    seed = (Math.imul(seed, 1103515245) + 12345) & 0x7fffffff;
    const j = (seed >>> 8) % (i + 1);
    const [a, b] = [out[i], out[j]];
    if (a !== undefined && b !== undefined) [out[i], out[j]] = [b, a];
  }
  return out;
}
