/**
 * Likelihood tables as a technician writes them, into full rows of numbers. Says what is wrong with a row; never
 * repairs one silently.
 */
import type { z } from 'zod';
import type * as schema from './schema.js';

type LikelihoodText = z.output<typeof schema.likelihood>;
type RowText = Record<string, number | string>;

/** No table says never or always: what cannot be still happens, one time in ten thousand. */
const SMALLEST = 1e-4;

export type RowProblem = { readonly key: string; readonly problem: string };

/** A chance in numbers, from a number or a word of the scale; undefined where the word is not on the scale. */
function chanceOf(text: number | string, scale: Readonly<Record<string, number>>): number | undefined {
  return typeof text === 'number' ? text : scale[text];
}

/** Problems of one row; `base` is null for the default row itself. */
export function rowProblems(
  row: RowText,
  values: readonly string[],
  many: boolean,
  scale: Readonly<Record<string, number>>,
  isDefault: boolean,
): RowProblem[] {
  const problems: RowProblem[] = [];
  let sum = 0;
  for (const [value, text] of Object.entries(row)) {
    if (!values.includes(value))
      problems.push({ key: value, problem: `"${value}" is not one of the values ${values.join(', ')}` });
    const chance = chanceOf(text, scale);
    if (chance === undefined)
      problems.push({ key: value, problem: `"${text}" is no word of the scale (${Object.keys(scale).join(', ')})` });
    else sum += chance;
  }
  if (problems.length > 0) return problems;
  const missing = values.filter((v) => !(v in row));
  if (isDefault && missing.length > 0)
    problems.push({ key: '', problem: `the default row lacks ${missing.join(', ')}` });
  if (many) return problems;
  const complete = missing.length === 0;
  if (complete ? Math.abs(sum - 1) > 0.005 : sum > 1 + 1e-9)
    problems.push({
      key: '',
      problem: `the row sums to ${Number(sum.toFixed(4))}, not to ${complete ? '1' : 'at most 1'}`,
    });
  return problems;
}

/** A full row: what is not named shares the rest in proportion to the base (`many`: is the base's). */
function fullRow(
  row: RowText,
  values: readonly string[],
  many: boolean,
  scale: Readonly<Record<string, number>>,
  base: Float64Array | null,
): Float64Array {
  const named = values.map((v) => (v in row ? (chanceOf(row[v] as number | string, scale) ?? 0) : null));
  const left = 1 - named.reduce<number>((sum, c) => sum + (c ?? 0), 0);
  const baseLeft = named.reduce<number>((sum, c, i) => sum + (c === null ? (base?.[i] ?? 0) : 0), 0);
  const full = Float64Array.from(
    named,
    (c, i) => c ?? (many ? (base?.[i] ?? 0) : baseLeft > 0 ? (Math.max(left, 0) * (base?.[i] ?? 0)) / baseLeft : 0),
  );
  for (let i = 0; i < full.length; i += 1)
    full[i] = Math.min(Math.max(full[i] ?? 0, SMALLEST), many ? 1 - SMALLEST : 1);
  if (many) return full;
  const sum = full.reduce((s, c) => s + c, 0);
  return full.map((c) => c / sum);
}

/** The table's rows by fault: a fault's own row, else its system's, else the default. */
export function fullTable(
  text: LikelihoodText,
  values: readonly string[],
  many: boolean,
  scale: Readonly<Record<string, number>>,
  faults: readonly { readonly id: string; readonly system: string }[],
): { base: Float64Array; rows: Float64Array[] } {
  const base = fullRow(text.default, values, many, scale, null);
  const rows = faults.map((fault) => {
    const own = text.rows[fault.id] ?? text.rows[fault.system];
    return own ? fullRow(own, values, many, scale, base) : base;
  });
  return { base, rows };
}
