/**
 * Learns from sentences which danger each tells of, if any: a linear classifier (softmax regression, fitted by AdaGrad)
 * over the signs of a text. The same sentences always give the same weights. It never judges a message.
 */
export interface Lesson {
  readonly signs: readonly string[];
  /** numbers of the dangers it tells of; empty where it is harmless */
  readonly tells: readonly number[];
}

/** Weights as whole numbers, `scale` to one: a row for each sign, in it a column for each danger and the last for none. */
export interface Learned {
  readonly signs: readonly string[];
  /** how much a sign counts: rare ones more */
  readonly worth: readonly number[];
  readonly weights: Int8Array;
  readonly bias: readonly number[];
  readonly scale: number;
}

/** Raised with every change to what is learnt from the same sentences: what was kept before is then learnt anew. */
export const LEARNING = 1;

const ROUNDS = 6;
const RATE = 1;
const BIAS_RATE = 0.05;
/** an error below this teaches nothing */
const SLIGHT = 0.01;
/** signs that are met in fewer sentences are left out */
const MET = 2;

/** `dangers`: how many there are. */
export function learn(lessons: readonly Lesson[], dangers: number): Learned {
  const { signs, worth, rows } = countedSigns(lessons);
  const columns = dangers + 1;
  const weights = new Float32Array(signs.length * columns);
  const pace = new Float32Array(weights.length).fill(0.1);
  const bias = new Float64Array(columns);
  const error = new Float64Array(columns);
  const order = lessons.map((_, i) => i);
  const next = chance();
  for (let round = 0; round < ROUNDS; round += 1) {
    shuffle(order, next);
    for (const n of order) {
      const row = rows[n];
      if (!row) continue;
      const tells = lessons[n]?.tells ?? [];
      errorOf(row, tells.length > 0 ? tells : [dangers], error);
      for (let c = 0; c < columns; c += 1) {
        const e = error[c] ?? 0;
        if (e < SLIGHT && e > -SLIGHT) continue;
        bias[c] = (bias[c] ?? 0) - BIAS_RATE * e;
        for (let k = 0; k < row.signs.length; k += 1) {
          const at = (row.signs[k] ?? 0) * columns + c;
          const g = e * (row.parts[k] ?? 0);
          const p = (pace[at] ?? 0) + g * g;
          pace[at] = p;
          weights[at] = (weights[at] ?? 0) - (RATE * g) / Math.sqrt(p);
        }
      }
    }
  }
  return { signs, worth, ...rounded(weights), bias: [...bias] };

  /** The softmax of the sums, less what is true. */
  function errorOf(row: Row, truth: readonly number[], out: Float64Array): void {
    out.set(bias);
    for (let k = 0; k < row.signs.length; k += 1) {
      const from = (row.signs[k] ?? 0) * columns;
      const part = row.parts[k] ?? 0;
      for (let c = 0; c < columns; c += 1) out[c] = (out[c] ?? 0) + (weights[from + c] ?? 0) * part;
    }
    const most = Math.max(...out);
    let sum = 0;
    for (let c = 0; c < columns; c += 1) sum += out[c] = Math.exp((out[c] ?? 0) - most);
    for (let c = 0; c < columns; c += 1) out[c] = (out[c] ?? 0) / sum;
    for (const t of truth) out[t] = (out[t] ?? 0) - 1 / truth.length;
  }
}

interface Row {
  readonly signs: Int32Array;
  /** of length one together */
  readonly parts: Float32Array;
}

function countedSigns(lessons: readonly Lesson[]): { signs: string[]; worth: number[]; rows: Row[] } {
  const met = new Map<string, number>();
  for (const { signs } of lessons) for (const s of signs) met.set(s, (met.get(s) ?? 0) + 1);
  const signs = [...met].filter(([, n]) => n >= MET).map(([s]) => s);
  const worth = signs.map((s) =>
    Number((Math.log(1 + lessons.length / (met.get(s) ?? 1)) / Math.log(1 + lessons.length)).toFixed(3)),
  );
  const index = new Map(signs.map((s, i) => [s, i]));
  const rows = lessons.map((lesson) => {
    const known = lesson.signs.flatMap((s) => index.get(s) ?? []);
    const length = Math.hypot(...known.map((i) => worth[i] ?? 0)) || 1;
    return { signs: Int32Array.from(known), parts: Float32Array.from(known, (i) => (worth[i] ?? 0) / length) };
  });
  return { signs, worth, rows };
}

function rounded(weights: Float32Array): Pick<Learned, 'weights' | 'scale'> {
  let most = 0;
  for (const w of weights) most = Math.max(most, Math.abs(w));
  const scale = most > 0 ? 127 / most : 1;
  return { weights: Int8Array.from(weights, (w) => Math.round(w * scale)), scale };
}

/** Always the same numbers from 0 to 1 (Park and Miller's minimal standard generator). */
function chance(): () => number {
  let seed = 1;
  return () => {
    seed = (seed * 48_271) % 2_147_483_647;
    return seed / 2_147_483_647;
  };
}

function shuffle(order: number[], next: () => number): void {
  for (let i = order.length - 1; i > 0; i -= 1) {
    const j = Math.floor(next() * (i + 1));
    [order[i], order[j]] = [order[j] ?? 0, order[i] ?? 0];
  }
}
