import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/dist/**'],
    // Some tests read whole journals many times over: the limit is there for what hangs, and is no measure of speed.
    testTimeout: 120_000,
    // Nothing in the server keeps a state of its own, so the files need no fresh copy of it each: half of the time went into loading.
    isolate: false,
    // One process a core: it would leave one of them idle.
    maxWorkers: '100%',
  },
});
