import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';

/** Tests that leave nothing behind in a module share a worker's modules, which cost more to load than most of them to run. */
const ALONE = ['tests/browser/**', 'tests/faults/**', 'tests/stories/**', 'tests/*.test.ts'];
const TESTS = 'tests/**/*.test.{ts,tsx}';
/** As many as there are cores, unless tests/run.mjs says how many: left alone the runner keeps one of two for itself. */
const maxWorkers = Number(process.env.TEST_WORKERS ?? availableParallelism());

export default defineConfig({
  test: {
    testTimeout: 30_000,
    hookTimeout: 60_000,
    maxWorkers,
    projects: [
      { extends: true, test: { name: 'together', include: [TESTS], exclude: ALONE, isolate: false } },
      {
        extends: true,
        test: {
          name: 'alone',
          include: ALONE.map((path) => path.replace(/\*\*$/, TESTS.slice(6))),
          isolate: false,
          globalSetup: 'tests/support/browser.ts',
          // They watch a browser, a clock or a process: beside another of them they would be late.
          maxWorkers: 1,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
