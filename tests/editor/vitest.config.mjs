import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/editor/**/*.editor.ts'],
    fileParallelism: false,
    // A real editor waits for nobody: a test that fails is tried again before it has failed.
    retry: 2,
    testTimeout: 120_000,
    hookTimeout: 180_000,
  },
});
