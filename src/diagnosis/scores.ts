/** How good a ranking was, once the cause is known: proper scores, best when the chances told are the chances meant. */
import type { Ranked } from './belief.js';

/** A chance told as 0 that came true after all costs as much as this one. */
const LEAST = 1e-6;

/** Sum over all causes of the squared distance to what came true: 0 is perfect, 2 the worst (Brier 1950). */
export const brier = (ranking: readonly Ranked[], cause: string): number =>
  ranking.reduce((sum, { fault, probability }) => sum + (probability - (fault === cause ? 1 : 0)) ** 2, 0);

/** -ln of the chance given to what came true, in nats: 0 is perfect. */
export const logScore = (ranking: readonly Ranked[], cause: string): number =>
  -Math.log(Math.max(LEAST, ranking.find((r) => r.fault === cause)?.probability ?? 0));
