/**
 * A chance in words that mean the same to every reader: the calibrated likelihood terms of the climate assessments
 * (IPCC, Fourth Assessment Report, Working Group II, front matter F, "Description of likelihood").
 */
const SCALE = [
  [0.99, 'virtually-certain'],
  [0.9, 'very-likely'],
  [0.66, 'likely'],
  [0.33, 'even'],
  [0.1, 'unlikely'],
  [0.01, 'very-unlikely'],
] as const;

export type Odds = (typeof SCALE)[number][1] | 'exceptionally-unlikely';

export const oddsOf = (probability: number): Odds =>
  SCALE.find(([least]) => probability >= least)?.[1] ?? 'exceptionally-unlikely';
