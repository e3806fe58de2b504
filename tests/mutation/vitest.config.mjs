import { defineConfig } from 'vitest/config';

/**
 * The tests of quantities and of the engine by themselves. All of them take two minutes, and what no test sees takes all: `TESTS=tests/quantity` asks
 * those of one folder alone, so a score is then the least that it may be.
 */
const FOLDERS = process.env.TESTS?.split(',') ?? ['tests/quantity', 'tests/engine'];

export default defineConfig({
  test: {
    include: FOLDERS.map((folder) => (folder.endsWith('.test.ts') ? folder : `${folder}/**/*.test.ts`)),
    testTimeout: 120_000,
    maxWorkers: 1,
  },
});
