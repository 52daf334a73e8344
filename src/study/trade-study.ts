/** What each policy costs over many made-up callers, with 95 % intervals; all policies meet the same callers. */
import { corp, type Split } from '../diagnosis/calibration.js';
import { numbersFrom } from '../diagnosis/seeded.js';
import type { Decision } from '../diagnosis/remedies.js';
import type { Knowledge, Words } from '../knowledge/facts.js';
import { drawCaller, play, type Played, type Seen, type TradePolicy } from './trade.js';

const least = ({ belief, decisions }: Seen): Decision => {
  const cost = ({ loss }: Decision): number => belief.p.reduce((s, p, h) => s + p * loss[h]!, 0);
  return decisions.reduce((best, d) => (cost(d) < cost(best) ? d : best));
};

/** All but ours and the one that never asks stop by our own rule. */
const POLICIES: Readonly<Record<string, TradePolicy>> = {
  ours: ({ ours }) => {
    const chosen = ours();
    return chosen.kind === 'ask' ? chosen.step : chosen.decision;
  },
  'cheapest-question': (seen) => {
    const chosen = seen.ours();
    return chosen.kind === 'decide' ? chosen.decision : (seen.candidates[0]?.step ?? least(seen));
  },
  'no-question': least,
};
const SIGMA = 0.5;
const Z95 = 1.96;

export interface Mean {
  readonly mean: number;
  /** half the width of the 95 % interval */
  readonly within: number;
}
export interface TradeRow {
  readonly words: Words;
  /** standard deviation of the noise on the logarithm of likelihoods */
  readonly off: number;
  readonly policy: string;
  readonly minutes: Mean;
  readonly right: Mean;
  readonly handedOver: Mean;
  readonly questions: Mean;
  readonly calibration: Split | null;
}

export const tradePlays = (cases: number): number => cases * 4;

export function tradeStudy(knowledge: Knowledge, cases: number, seed: number, seen: () => void): TradeRow[] {
  return (['technician', 'homeowner'] as const).flatMap((words) =>
    [0, SIGMA].flatMap((off) => {
      const random = numbersFrom(seed);
      const played = new Map<string, Played[]>(Object.keys(POLICIES).map((name) => [name, []]));
      for (let i = 0; i < cases; i += 1) {
        const caller = drawCaller(knowledge, random, off);
        for (const [name, policy] of Object.entries(POLICIES))
          played.get(name)?.push(play(knowledge, words, caller, policy));
        seen();
      }
      return [...played].map(([policy, all]) => ({
        words,
        off,
        policy,
        minutes: meanOf(all.map((p) => p.minutes)),
        right: meanOf(all.map((p) => Number(p.right))),
        handedOver: meanOf(all.map((p) => Number(p.handedOver))),
        questions: meanOf(all.map((p) => p.questions)),
        calibration: corp(all.map((p) => p.told)),
      }));
    }),
  );
}

function meanOf(numbers: readonly number[]): Mean {
  const n = numbers.length;
  const mean = numbers.reduce((s, x) => s + x, 0) / n;
  const variance = numbers.reduce((s, x) => s + (x - mean) ** 2, 0) / Math.max(1, n - 1);
  return { mean, within: Z95 * Math.sqrt(variance / n) };
}
