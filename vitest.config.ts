import { existsSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { dirname, join, relative, resolve } from 'node:path';
import { defineConfig, type Plugin } from 'vitest/config';

/** They drive a browser, one of them after the other: beside another of them they would be late. */
const BROWSER = ['tests/browser/**'];
/** They start and end servers, and wait for them most of the time. */
const PROCESSES = ['tests/faults/**', 'tests/serve.test.ts'];
/** Whole builds worked off day by day, and the command line: long, and so run where there is time left. */
const LONG = ['tests/stories/**', 'tests/cli/**'];
const TESTS = 'tests/**/*.test.{ts,tsx}';
/** As many as there are cores, unless tests/run.mjs says how many: left alone the runner keeps one of two for itself. */
const maxWorkers = Number(process.env.TEST_WORKERS ?? availableParallelism());

/** Under `npm test`, which builds first: the tests run what was built, as whoever installs it does. */
const RUNS_BUILT = process.env.TEST_BUILT === '1';

/**
 * Leads an import of a source to what was compiled from it. Node loads that as it is, where the runner would transform
 * each source, and each thread with a planner in it once more.
 */
const built: Plugin = {
  name: 'built',
  enforce: 'pre',
  resolveId: (source, importer) => {
    const path = source.startsWith('.') && importer ? resolve(dirname(importer), source) : source;
    const within = relative(import.meta.dirname, path);
    if (!/^(server|views|seed)\/.*\.tsx?$/.test(within)) return null;
    const compiled = join(import.meta.dirname, 'dist', within.replace(/\.tsx?$/, '.js'));
    if (!existsSync(compiled)) throw new Error(`${within} is not built; npm run build does that.`);
    return compiled;
  },
};

export default defineConfig({
  plugins: RUNS_BUILT ? [built] : [],
  test: {
    server: { deps: { external: [/\/dist\/(server|views|seed)\/.*\.js$/] } },
    // Longer than anything takes beside the other groups on a busy machine: a test that waits for these has failed.
    testTimeout: 90_000,
    hookTimeout: 90_000,
    expect: { poll: { timeout: 15_000 } },
    maxWorkers,
    // Most functions run a few times here. With the usual budget the optimizing compiler takes a fifth of all work; fifteen
    // times that leaves it the functions that a whole search runs.
    execArgv: ['--interrupt-budget=1000000'],
    // Tests leave nothing behind in a module, and so share a worker's modules: to load them takes longer than most tests.
    isolate: false,
    projects: [
      { extends: true, test: { name: 'together', include: [TESTS], exclude: [...BROWSER, ...PROCESSES, ...LONG] } },
      {
        extends: true,
        test: {
          name: 'browser',
          include: BROWSER.map(testsIn),
          globalSetup: 'tests/support/browser.ts',
          maxWorkers: 1,
          sequence: { groupOrder: 1 },
        },
      },
      {
        extends: true,
        test: { name: 'processes', include: PROCESSES.map(testsIn), maxWorkers: 1, sequence: { groupOrder: 2 } },
      },
      { extends: true, test: { name: 'long', include: LONG.map(testsIn) } },
    ],
  },
});

/** The test files of a folder, or the one that is named. */
function testsIn(path: string): string {
  return path.replace(/\*\*$/, TESTS.slice('tests/'.length));
}
