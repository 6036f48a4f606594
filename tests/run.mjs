/**
 * `npm test`: the groups of tests (vitest.config.ts) side by side, each in a process of its own, since one computes, one
 * waits for a browser and one for servers; beside them the types are checked, which the build leaves out. The last line
 * is their sum. Arguments go to all groups, so `npm test -- tests/web` runs what is there.
 */
import { spawn } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';

const VITEST = fileURLToPath(new URL('../node_modules/vitest/vitest.mjs', import.meta.url));
const COMPILER = fileURLToPath(new URL('../node_modules/typescript/bin/tsc', import.meta.url));
const REPORTS = fileURLToPath(new URL('../node_modules/.cache/', import.meta.url));
/** How many files of a group run at a time. Those that wait leave the cores to those that compute, save for one. */
const GROUPS = { browser: 2, together: Math.max(1, availableParallelism() - 1), processes: 1 };
const TYPES = ['tsconfig.json', 'views/client/tsconfig.json'];

/** The result of one group: how many tests passed and failed. A group that ended badly has at least one failure. */
async function run(group, workers, args) {
  const report = `${REPORTS}tests-${group}.json`;
  rmSync(report, { force: true });
  const own = ['run', '--project', group, '--passWithNoTests'];
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${report}`];
  const child = spawn(process.execPath, [VITEST, ...own, ...reporters, ...args], {
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...process.env, TEST_WORKERS: String(workers), TEST_BUILT: '1' },
  });
  forward(child.stdout, process.stdout);
  forward(child.stderr, process.stderr);
  const code = await new Promise((resolve) => child.on('close', resolve));
  return counted(report, code);
}

function counted(report, code) {
  try {
    const { numPassedTests, numFailedTests, testResults } = JSON.parse(readFileSync(report, 'utf8'));
    const broken = testResults.filter((file) => file.status === 'failed' && file.assertionResults.length === 0).length;
    const failed = numFailedTests + broken;
    return { passed: numPassedTests, failed: failed === 0 && code !== 0 ? 1 : failed };
  } catch {
    return { passed: 0, failed: 1 };
  }
}

/** What the compiler says of the types of a project: one failure where it is anything. */
async function checkTypes(project) {
  const child = spawn(process.execPath, [COMPILER, '-p', project, '--noEmit'], { stdio: ['ignore', 'pipe', 'pipe'] });
  forward(child.stdout, process.stdout);
  forward(child.stderr, process.stderr);
  const code = await new Promise((resolve) => child.on('close', resolve));
  return { passed: 0, failed: code === 0 ? 0 : 1 };
}

/** Whole lines only, so that two groups never write into each other's. */
function forward(from, to) {
  let rest = '';
  from.setEncoding('utf8');
  from.on('data', (text) => {
    const end = (rest + text).lastIndexOf('\n') + 1;
    to.write((rest + text).slice(0, end));
    rest = (rest + text).slice(end);
  });
  from.on('end', () => to.write(rest));
}

mkdirSync(REPORTS, { recursive: true });
const args = process.argv.slice(2);
const results = await Promise.all([
  ...Object.entries(GROUPS).map(([group, workers]) => run(group, workers, args)),
  ...TYPES.map(checkTypes),
]);
const passed = results.reduce((sum, result) => sum + result.passed, 0);
const failed = results.reduce((sum, result) => sum + result.failed, 0);
process.stdout.write(passed + failed === 0 ? 'No test was found.\n' : '');
process.stdout.write(`${passed} passed, ${failed} failed\n`);
process.exitCode = passed > 0 && failed === 0 ? 0 : 1;
