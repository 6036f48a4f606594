import { availableParallelism } from 'node:os';
import { defineConfig } from 'vitest/config';

/** Tests of pure code: they share a worker's modules, which else cost more to load than most of them to run. */
const PURE = ['tests/engine/**/*.test.{ts,tsx}', 'tests/model/**/*.test.{ts,tsx}', 'tests/views/**/*.test.{ts,tsx}'];
/** As many at a time as there are cores; left to itself the runner keeps one of two cores for its own. */
const maxWorkers = availableParallelism();

export default defineConfig({
  test: {
    testTimeout: 30_000,
    hookTimeout: 60_000,
    maxWorkers,
    projects: [
      { extends: true, test: { name: 'pure', include: PURE, isolate: false } },
      { extends: true, test: { name: 'rooms', include: ['tests/**/*.test.{ts,tsx}'], exclude: PURE } },
    ],
  },
});
