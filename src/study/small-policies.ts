/** Policies on a small problem: ours, and those that it is compared with. */
import { leafOf } from '../diagnosis/leaf.js';
import { lookAhead, priceOf, type Breadth, type Move } from '../diagnosis/look-ahead.js';
import { after } from '../diagnosis/outcomes.js';
import { mended, repairPlans } from '../diagnosis/repair-order.js';
import { openMoves, type Action, type Policy, type Problem, type Standing } from './problem.js';

const ALL: Breadth = { first: Infinity, second: Infinity };

/** The moves that may come now or behind one of those, as they stand: what is open is free, what is done is left out. */
function standingMoves({ moves }: Problem, done: readonly number[]): { moves: Move[]; index: number[] } {
  const index = moves.flatMap((_, i) => (done.includes(i) || done.some((j) => moves[j]!.shuts.includes(i)) ? [] : [i]));
  const opened = new Set(done.flatMap((j) => [...moves[j]!.opens.keys()]));
  const here = (js: readonly number[]): number[] => js.filter((j) => !done.includes(j)).map((j) => index.indexOf(j));
  return {
    index,
    moves: index.map((i) => {
      const move = moves[i]!;
      const opens = new Map([...move.opens].filter(([name]) => !opened.has(name)));
      return { ...move, opens, after: here(move.after), shuts: here(move.shuts) };
    }),
  };
}

const normalised = ({ weights, sum }: Standing): Float64Array => weights.map((w) => w / sum);
const end = (ending: number): Action => ({ kind: 'end', ending });
const make = (move: number | undefined): Action => ({ kind: 'move', move: move ?? -1 });

/** The planner that serves a case: two steps ahead; beyond them repairs by p/C where there are any, else missing bits. */
export const ours =
  (breadth: Breadth = ALL): Policy =>
  (problem, standing) => {
    const b = normalised(standing);
    const { moves, index } = standingMoves(problem, standing.done);
    if (problem.moves.some(mended)) {
      const plan = repairPlans(moves, problem.endings);
      const rest = plan(b, 1);
      const nothingElse = rest.next < 0 && rest.ending < 0;
      const beyond = { worth: (w: Float64Array, sum: number) => plan(w, sum).cost, known: () => 0 };
      const { move } = lookAhead(b, moves, () => beyond, nothingElse ? Infinity : rest.cost, breadth);
      if (move >= 0) return make(index[move]);
      return rest.next >= 0 ? make(index[rest.next]) : end(rest.ending);
    }
    const decisions = problem.endings.map(({ loss }) => ({ remedy: null, loss }));
    const kept = [...b.keys()];
    const nothing = new Set<string>();
    const steps = moves.map((m) => ({ price: priceOf(m, nothing), outcomes: m.outcomes }));
    const leaf = leafOf(decisions, kept, b, steps);
    // what a move makes worthless does not count behind it
    const behind = moves.map(({ shuts }) =>
      shuts.length === 0
        ? leaf
        : leafOf(
            decisions,
            kept,
            b,
            steps.filter((_, j) => !shuts.includes(j)),
          ),
    );
    const now = leaf.decide(b);
    const { move } = lookAhead(b, moves, (made) => behind[made] ?? leaf, now.cost, breadth);
    return move >= 0 ? make(index[move]) : end(now.decision);
  };

/** One question at most is thought ahead: asked where its cost and the repairs or the end after it cost less than those at once. */
export const myopic: Policy = (problem, standing) => {
  const b = normalised(standing);
  const { moves, index } = standingMoves(problem, standing.done);
  const plan = repairPlans(moves, problem.endings);
  const rest = plan(b, 1);
  const worth = (w: Float64Array, sum: number): number => plan(w, sum).cost;
  const buffer = new Float64Array(b.length);
  const nothing = new Set<string>();
  let best = { cost: rest.cost - 1e-9, i: -1 };
  moves.forEach((m, i) => {
    if (mended(m) || m.after.length > 0) return;
    const cost = priceOf(m, nothing) + after(m.outcomes, b, 1, buffer, worth);
    if (cost < best.cost) best = { cost, i };
  });
  if (best.i >= 0) return make(index[best.i]);
  return rest.next >= 0 ? make(index[rest.next]) : end(rest.ending);
};

/** No questions: repairs by chance for their minutes. */
export const withoutQuestions: Policy = (problem, { weights, sum, done }) => {
  const { moves, index } = standingMoves(problem, done);
  const rest = repairPlans(moves, problem.endings)(weights, sum);
  return rest.next >= 0 ? make(index[rest.next]) : end(rest.ending);
};

const repairsBy =
  (worse: (problem: Problem, standing: Standing, i: number) => number): Policy =>
  (problem, standing) => {
    const left = openMoves(problem, standing.done)
      .filter((i) => mended(problem.moves[i]!))
      .map((i) => ({ i, by: worse(problem, standing, i) }))
      .sort((x, y) => x.by - y.by || x.i - y.i);
    return left[0] ? make(left[0].i) : end(problem.endings.length > 0 ? 0 : -1);
  };

/** No questions: the most probable repair first. */
export const mostProbableFirst = repairsBy(
  (problem, { weights }, i) => -mended(problem.moves[i]!)!.chance.reduce((s, c, h) => s + c * weights[h]!, 0),
);

/** No questions: the cheapest repair first. */
export const cheapestFirst = repairsBy((problem, _, i) => problem.moves[i]!.minutes);

/** The given order of moves, then the ending. */
export const inOrder =
  (order: readonly number[], ending = -1): Policy =>
  (_, { done }) =>
    done.length < order.length ? make(order[done.length]) : end(ending);
