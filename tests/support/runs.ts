// How much the tests of random inputs try: a moderate number each time, more where THAWLINE_TEST_RUNS multiplies it.
// THAWLINE_TEST_SEED repeats a run; without it the inputs are the same each time, so that a red test stays red.

const times = Number(process.env.THAWLINE_TEST_RUNS ?? 1);
const seed = Number(process.env.THAWLINE_TEST_SEED ?? 20_261_125);

export const runs = (usual: number): { numRuns: number; seed: number; timeout: number } => ({
  numRuns: Math.max(1, Math.round(usual * times)),
  seed,
  timeout: 120_000 * Math.max(1, times),
});

/** Says how many inputs a test tried, with the run's report. */
export const tried = (what: string, count: number): void => void process.stdout.write(`tried ${count} ${what}\n`);
