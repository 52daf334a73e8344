/**
 * Two steps ahead over any small model: which move has the least expected cost, or none where stopping costs least.
 * It knows nothing of the trade: moves bring outcomes, and a leaf says what is still to come where the look ends.
 * Deterministic; bounded by the caps.
 */
import { after, type Outcome, type Worth } from './outcomes.js';

/** Something that may be done next: a question, a test, a repair. */
export interface Move {
  readonly outcomes: readonly Outcome[];
  readonly minutes: number;
  /** what it opens, in minutes by name; what is open already is left out */
  readonly opens: ReadonlyMap<string, number>;
  /** moves that have to come before it; it is looked at only behind them */
  readonly after: readonly number[];
  /** moves that are worth nothing any more once it is made: cold tests after a thaw */
  readonly shuts: readonly number[];
}

/** What lies beyond the look-ahead. */
export interface Beyond {
  /** expected minutes from a belief on */
  readonly worth: Worth;
  /** expected minutes if the cause were known: no move brings less than this */
  readonly known: Worth;
}

/** How much is looked at: the most promising first and second moves. */
export interface Breadth {
  readonly first: number;
  readonly second: number;
}

const NOTHING: ReadonlySet<string> = new Set();

/**
 * `now`: what stopping here costs. `beyond`: what lies beyond, once this move is made. Gives the move's index, -1 for stopping, and the cost expected then, minutes.
 */
export function lookAhead(
  b: Float64Array,
  moves: readonly Move[],
  beyond: (made: number) => Beyond,
  now: number,
  breadth: Breadth,
): { readonly move: number; readonly cost: number } {
  const { first, costOf } = stepsAhead(b, moves, beyond, breadth);
  let best = { move: -1, cost: now };
  for (const i of first) {
    const cost = costOf(i, best.cost);
    if (cost < best.cost - 1e-9) best = { move: i, cost };
  }
  return best;
}

/** The moves worth a look now, most promising first, and what one leads to: from `limit` on it is not reckoned to the end. */
export function stepsAhead(
  b: Float64Array,
  moves: readonly Move[],
  beyond: (made: number) => Beyond,
  breadth: Breadth,
): { readonly first: readonly number[]; readonly costOf: (move: number, limit?: number) => number } {
  const buffers = [new Float64Array(b.length), new Float64Array(b.length)] as const;
  const order = moves
    .map((m, i) => ({ i, cost: priceOf(m, NOTHING) + after(m.outcomes, b, 1, buffers[0], beyond(i).worth) }))
    .filter(({ i }) => moves[i]?.after.length === 0)
    .sort((x, y) => x.cost - y.cost || x.i - y.i)
    .map(({ i }) => i);
  const second = order.slice(0, breadth.second);
  const behind = moves.flatMap((m, i) => (m.after.length > 0 ? [i] : []));
  const leads = order.filter((i) => behind.some((j) => moves[j]?.after.includes(i)));
  return {
    first: [...new Set([...order.slice(0, breadth.first), ...leads])],
    costOf(i, limit = Infinity) {
      const move = moves[i]!;
      const opened = new Set(move.opens.keys());
      const next = [...second, ...behind.filter((j) => moves[j]!.after.every((m) => m === i))].filter(
        (j) => j !== i && !move.shuts.includes(j),
      );
      const prices = next.map((j) => priceOf(moves[j]!, opened));
      const leaf = beyond(i);
      const worth: Worth = (w, sum) => bestAfter(w, sum, next, prices, moves, buffers[1], leaf);
      const own = priceOf(move, NOTHING);
      return own + after(move.outcomes, b, 1, buffers[0], worth, limit - own);
    },
  };
}

/** The least cost from a belief on: what lies beyond, or one more move and then that. */
function bestAfter(
  w: Float64Array,
  sum: number,
  next: readonly number[],
  prices: readonly number[],
  moves: readonly Move[],
  buffer: Float64Array,
  beyond: Beyond,
): number {
  let least = beyond.worth(w, sum);
  const known = beyond.known(w, sum);
  for (let n = 0; n < next.length; n += 1) {
    const own = prices[n]!;
    if (own >= least) continue;
    const { outcomes } = moves[next[n]!]!;
    if (own + known >= least && isPlain(outcomes)) continue;
    const cost = own + after(outcomes, w, sum, buffer, beyond.worth, least - own);
    if (cost < least) least = cost;
  }
  return least;
}

/** Whether each outcome moves the belief just as likely as it is: then the mean belief after it is the one before. */
const isPlain = (outcomes: readonly Outcome[]): boolean => outcomes.every((o) => o.chance === o.factor);

/** Minutes for a move, given what is open by then. */
export function priceOf(move: Pick<Move, 'minutes' | 'opens'>, opened: ReadonlySet<string>): number {
  let { minutes } = move;
  for (const [name, cost] of move.opens) if (!opened.has(name)) minutes += cost;
  return minutes;
}
