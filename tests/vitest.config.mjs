import { defineConfig } from 'vitest/config';

// Some tests read whole journals many times over: the limit is there for what hangs, and is no measure of speed.
export default defineConfig({ test: { include: ['tests/**/*.test.ts'], testTimeout: 120_000 } });
