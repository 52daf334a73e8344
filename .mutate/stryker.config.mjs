// `npm run mutate`: one room of src/ (THAWLINE_MUTATE, safety where it is not named) with small faults put in, one at a
// time, against the tests of that room. It changes nothing here: it works on a copy below .mutate/work.
const room = process.env['THAWLINE_MUTATE'] ?? 'safety';

export default {
  testRunner: 'vitest',
  vitest: { configFile: '.mutate/vitest.config.mjs', related: false },
  mutate: [`src/${room}/**/*.ts`],
  coverageAnalysis: 'perTest',
  concurrency: 1,
  // on a busy machine a slow test must not pass for a fault that was noticed
  timeoutMS: 60_000,
  // the compiler has no JavaScript API, which Stryker would call for its configuration
  tsconfigFile: '.mutate/none.json',
  tempDirName: '.mutate/work',
  ignorePatterns: ['dist', '.bench', '.mutate/kept.json', 'demo-transcripts', 'tests/callers', 'tests/language'],
  reporters: ['clear-text', 'json'],
  clearTextReporter: { allowColor: false, logTests: false, reportTests: false },
  jsonReporter: { fileName: `.mutate/work/${room}.json` },
};
