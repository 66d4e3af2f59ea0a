import { defineConfig } from 'vitest/config';

/** One process for each core at most; thread tests run on the built program, so `npm test` builds first. */
export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['tests/**/*.test.ts'],
    setupFiles: ['tests/support/chance.ts', 'tests/second-opinion/every-verdict.ts'],
    // For what hangs alone: a machine with much else to do takes ten times as long.
    testTimeout: 240_000,
    hookTimeout: 240_000,
    maxWorkers: 2,
    coverage: {
      provider: 'v8',
      include: ['checker', 'cloth', 'pieces', 'units', 'cutlist'].map((room) => `src/${room}/**/*.ts`),
      reporter: ['text', 'json'],
      reportsDirectory: 'coverage',
      thresholds: { lines: 95 },
    },
  },
});
