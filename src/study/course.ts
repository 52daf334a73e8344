/** The whole study: which pieces there are, and what comes of them. Who does the pieces is told by an argument. */
import type { Dangers } from './dangers.js';
import type { Job, Result } from './jobs.js';
import { SIZES, type Size } from './random-models.js';
import { summary, type Ratios } from './ratios.js';
import { joined, tally, type GroupFigures } from './tally.js';
import type { Group } from './tales.js';
import type { Checklist } from './trade-policies.js';

/** Does pieces, side by side or one after another; the results stand in the order of the pieces. */
export type Workshop = <J extends Job>(jobs: readonly J[]) => Promise<Result<J>[]>;

export interface Extent {
  /** random problems of a size */
  readonly problems: number;
  /** pieces of the trade's model; beliefs on which the look-ahead is held against the whole */
  readonly subModels: number;
  readonly beliefs: number;
  /** callers of each group */
  readonly callers: number;
  /** callers that the search for the best list sees, and lists that it looks at beyond the one it grows */
  readonly training: number;
  readonly looks: number;
}

export interface Study {
  readonly random: readonly (Size & { readonly policies: Readonly<Record<string, Ratios>> })[];
  readonly subModels: Readonly<Record<string, Ratios>>;
  readonly lookAhead: Ratios;
  readonly dangers: Dangers;
  readonly lists: Readonly<Record<Group['words'], Checklist>>;
  readonly groups: readonly GroupFigures[];
}

/** So many callers are a piece. */
const PIECE = 50;
const WORDS = ['technician', 'homeowner'] as const;

export const piecesOf = ({ problems, subModels, beliefs, callers }: Extent): number =>
  SIZES.length * Math.ceil(problems / PIECE) +
  Math.ceil(subModels / PIECE) +
  Math.ceil(beliefs / PIECE) +
  WORDS.length +
  1 +
  2 * WORDS.length * Math.ceil(callers / PIECE);

export async function study(extent: Extent, workshop: Workshop): Promise<Study> {
  const { problems, subModels, beliefs, callers, training, looks } = extent;
  const [[technician, homeowner], random, pieces, capped, [spoken]] = await Promise.all([
    workshop(WORDS.map((words) => ({ kind: 'list' as const, words, callers: training, looks }))),
    Promise.all(
      SIZES.map(async (size, n) => {
        const parts = await workshop(stretches(problems).map((s) => ({ kind: 'random' as const, size: n, ...s })));
        return { ...size, policies: summary(parts.flat()) };
      }),
    ),
    workshop(stretches(subModels).map((s) => ({ kind: 'sub-models' as const, ...s }))),
    workshop(stretches(beliefs).map((s) => ({ kind: 'look-ahead' as const, ...s }))),
    workshop([{ kind: 'dangers' as const }]),
  ]);
  const lists = { technician: technician!, homeowner: homeowner! };
  const groups = await Promise.all(
    WORDS.flatMap((words) =>
      [false, true].map(async (off) => {
        const group = { words, off };
        const list = lists[words];
        const parts = stretches(callers).map((s) => ({ kind: 'callers' as const, group, list, ...s }));
        return tally(group, joined(await workshop(parts)));
      }),
    ),
  );
  return {
    random,
    subModels: summary(pieces.flat()),
    lookAhead: summary(capped.flat())['capped']!,
    dangers: spoken!,
    lists,
    groups,
  };
}

function stretches(count: number): { readonly from: number; readonly to: number }[] {
  return Array.from({ length: Math.ceil(count / PIECE) }, (_, i) => ({
    from: i * PIECE,
    to: Math.min(count, (i + 1) * PIECE),
  }));
}
