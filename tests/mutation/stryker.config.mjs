/**
 * Changes the engine's code, an operator or a figure at a time, and asks whether a test fails: `npm run mutate -- -m 'server/engine/gas.ts'` for one
 * file. What no test sees is printed with its line. It takes hours for all of it, so it is no part of the checks before a change lands.
 */
export default {
  packageManager: 'npm',
  testRunner: 'vitest',
  plugins: ['@stryker-mutator/vitest-runner'],
  vitest: { configFile: 'tests/mutation/vitest.config.mjs', related: false },
  mutate: ['server/quantity/**/*.ts', 'server/engine/**/*.ts'],
  // It would rewrite paths in it, with the interface of an older compiler; there are none to rewrite.
  tsconfigFile: 'none',
  coverageAnalysis: 'perTest',
  ignoreStatic: true,
  // Wording is read by people and held by other tests; here it is sums, limits and branches that count.
  mutator: { excludedMutations: ['StringLiteral', 'ObjectLiteral', 'ArrayDeclaration'] },
  reporters: ['clear-text'],
  clearTextReporter: { allowColor: false, reportTests: false, reportScoreTable: true },
  tempDirName: 'tests/dist/mutation',
  timeoutMS: 20_000,
  // The first run of all tests takes two minutes where nothing else runs, and far longer beside other work.
  dryRunTimeoutMinutes: 30,
  concurrency: 2,
  allowEmpty: true,
};
