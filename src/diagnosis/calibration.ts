/**
 * Whether chances told come true as often as they say: isotonic regression by pooling adjacent violators, as in the
 * CORP approach (Dimitriadis, Gneiting and Jordan 2021, PNAS 118), and the split of the Brier score (Murphy 1973).
 */

/** A chance told (0 to 1), and whether it came true. */
export interface Told {
  readonly chance: number;
  readonly came: boolean;
}

/** Chances told of `from` to `to` came true in the share `share` of `count`; shares rise from block to block. */
export interface Block {
  readonly from: number;
  readonly to: number;
  readonly count: number;
  readonly share: number;
}

/** The rising curve nearest to what came true: blocks of chances told, lowest first. */
export function reliability(told: readonly Told[]): Block[] {
  const blocks: { from: number; to: number; count: number; share: number }[] = [];
  for (const [chance, { count, share }] of byChance(told)) {
    let block = { from: chance, to: chance, count, share };
    for (let last = blocks.at(-1); last && last.share >= block.share; last = blocks.at(-1)) {
      blocks.pop();
      const all = last.count + block.count;
      const both = (last.share * last.count + block.share * block.count) / all;
      block = { from: last.from, to: block.to, count: all, share: both };
    }
    blocks.push(block);
  }
  return blocks;
}

/** Mean squared distance of one event's chances to what came, 0 to 1: score = off - apart + spread. */
export interface Split {
  readonly score: number;
  /** how far the chances told lie from what came true (reliability, miscalibration): 0 is best */
  readonly off: number;
  /** how well they tell cases apart (resolution, discrimination): more is better */
  readonly apart: number;
  /** what is uncertain whoever tells */
  readonly spread: number;
}

/** Murphy's split, by the distinct chances told; exact. Null without a case. */
export function murphy(told: readonly Told[]): Split | null {
  const by = byChance(told);
  return splitBy(told, (chance) => by.get(chance)?.share ?? 0);
}

/** The split by the rising curve instead: also for chances that hardly ever repeat. Null without a case. */
export function corp(told: readonly Told[]): Split | null {
  const blocks = reliability(told);
  return splitBy(told, (chance) => blocks.find((b) => chance <= b.to)?.share ?? 0);
}

/** Mean distance of the chance told from the share that came true, by the distinct chances told (ECE). */
export function meanGap(told: readonly Told[]): number | null {
  if (told.length === 0) return null;
  return [...byChance(told)].reduce((sum, [p, { count, share }]) => sum + count * Math.abs(p - share), 0) / told.length;
}

function splitBy(told: readonly Told[], recalibrated: (chance: number) => number): Split | null {
  if (told.length === 0) return null;
  const mean = (of: (t: Told) => number): number => told.reduce((sum, t) => sum + of(t), 0) / told.length;
  const came = (t: Told): number => Number(t.came);
  const share = mean(came);
  const score = mean((t) => (t.chance - came(t)) ** 2);
  const right = new Map([...new Set(told.map((t) => t.chance))].map((p) => [p, recalibrated(p)]));
  const left = mean((t) => ((right.get(t.chance) ?? 0) - came(t)) ** 2);
  const spread = share * (1 - share);
  return { score, off: score - left, apart: spread - left, spread };
}

/** How often each chance was told, and the share that came true, the lowest first. */
function byChance(told: readonly Told[]): Map<number, { count: number; share: number }> {
  const by = new Map<number, { count: number; share: number }>();
  for (const { chance, came } of [...told].sort((a, b) => a.chance - b.chance)) {
    const { count, share } = by.get(chance) ?? { count: 0, share: 0 };
    by.set(chance, { count: count + 1, share: (share * count + Number(came)) / (count + 1) });
  }
  return by;
}
