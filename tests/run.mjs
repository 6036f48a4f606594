/**
 * `npm test`: the groups of tests (vitest.config.ts), each in a process of its own. What waits for a browser and what waits
 * for servers run beside what computes; the types, which the build leaves out, are checked before that. The last line is
 * their sum. Arguments go to all groups, so `npm test -- tests/web` runs what is there.
 */
import { spawn } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync } from 'node:fs';
import { availableParallelism, constants, setPriority } from 'node:os';
import { relative } from 'node:path';
import { fileURLToPath } from 'node:url';

const VITEST = fileURLToPath(new URL('../node_modules/vitest/vitest.mjs', import.meta.url));
const COMPILER = fileURLToPath(new URL('../node_modules/typescript/bin/tsc', import.meta.url));
const ROOT = fileURLToPath(new URL('..', import.meta.url));
const REPORTS = fileURLToPath(new URL('../node_modules/.cache/', import.meta.url));
const args = process.argv.slice(2);
/** Most of what a plan makes on its way is gone when it is made: with more room for it a sixth less of all work. */
const ROOMY = `${process.env.NODE_OPTIONS ?? ''} --max-semi-space-size=64`;
/** The tests ask no servers but their own: certificates for others take half of the start of each process. */
const { NODE_EXTRA_CA_CERTS: _, ...ENVIRONMENT } = process.env;
const TYPES = ['tsconfig.json', 'views/client/tsconfig.json'];

/**
 * What runs side by side, each of it one after the other. What only computes gives way to what a browser or a server waits
 * for, and takes what those leave of the machine, of all its cores once they are done.
 */
const LANES = [
  [() => run('browser', 1)],
  [() => run('processes', 1), () => run('long', 1)],
  [
    ...TYPES.map((project) => () => checkTypes(project)),
    () => run('together', availableParallelism(), constants.priority.PRIORITY_BELOW_NORMAL),
  ],
];

/** The result of one group: how many tests passed and failed. A group that ended badly has at least one failure. */
async function run(group, workers, priority = constants.priority.PRIORITY_NORMAL) {
  const report = `${REPORTS}tests-${group}.json`;
  rmSync(report, { force: true });
  const own = ['run', '--project', group, '--passWithNoTests'];
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${report}`];
  const child = spawn(process.execPath, [VITEST, ...own, ...reporters, ...args], {
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...ENVIRONMENT, TEST_WORKERS: String(workers), TEST_BUILT: '1', NODE_OPTIONS: ROOMY },
  });
  lower(child, priority);
  forward(child.stdout, process.stdout);
  forward(child.stderr, process.stderr);
  const code = await new Promise((resolve) => child.on('close', resolve));
  return counted(report, code);
}

/** Lowers a process and all it will start. Where the system does not let us, it runs as it is. */
function lower(child, priority) {
  try {
    if (priority !== constants.priority.PRIORITY_NORMAL) setPriority(child.pid, priority);
  } catch {}
}

function counted(report, code) {
  try {
    const { numPassedTests, numFailedTests, testResults } = JSON.parse(readFileSync(report, 'utf8'));
    const broken = testResults.filter((file) => file.status === 'failed' && file.assertionResults.length === 0).length;
    const failed = numFailedTests + broken;
    return { passed: numPassedTests, failed: failed === 0 && code !== 0 ? 1 : failed, reasons: reasonsOf(testResults) };
  } catch {
    return { passed: 0, failed: 1 };
  }
}

/** Each failed test with the start of what it said: a long run ends with them, since its beginning may not be kept. */
function reasonsOf(files) {
  return files.flatMap((file) => {
    const tests = file.assertionResults.filter((test) => test.status === 'failed');
    if (tests.length === 0 && file.status === 'failed') return [`${relative(ROOT, file.name)}: ${file.message}`];
    return tests.map(
      (test) => `${relative(ROOT, file.name)}: ${test.fullName}\n${test.failureMessages.join('\n').slice(0, 1500)}`,
    );
  });
}

/**
 * What the compiler says of the types of a project: one failure where it is anything. On one thread, and collecting
 * nothing that it has let go of, it does a third of the work: its threads look at much of the types each for itself.
 */
async function checkTypes(project) {
  const child = spawn(process.execPath, [COMPILER, '-p', project, '--noEmit', '--singleThreaded'], {
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...ENVIRONMENT, GOGC: 'off' },
  });
  forward(child.stdout, process.stdout);
  forward(child.stderr, process.stderr);
  const code = await new Promise((resolve) => child.on('close', resolve));
  return { passed: 0, failed: code === 0 ? 0 : 1 };
}

async function inTurn(jobs) {
  const results = [];
  for (const job of jobs) results.push(await job());
  return results;
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
const results = (await Promise.all(LANES.map(inTurn))).flat();
const passed = results.reduce((sum, result) => sum + result.passed, 0);
const failed = results.reduce((sum, result) => sum + result.failed, 0);
for (const reason of results.flatMap((result) => result.reasons ?? [])) process.stdout.write(`FAILED ${reason}\n\n`);
process.stdout.write(passed + failed === 0 ? 'No test was found.\n' : '');
process.stdout.write(`${passed} passed, ${failed} failed\n`);
process.exitCode = passed > 0 && failed === 0 ? 0 : 1;
