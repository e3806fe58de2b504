import { defineConfig } from 'vitest/config';

/** The tests of quantities and of the engine by itself. */
export default defineConfig({
  test: {
    include: ['tests/quantity/**/*.test.ts', 'tests/engine/**/*.test.ts'],
    testTimeout: 120_000,
    maxWorkers: 1,
  },
});
