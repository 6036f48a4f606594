import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, test } from 'vitest';
import type { LedgerSpan } from '../../server/engine/11-ledger/index.ts';
import { createJobs } from '../../server/planner/background/jobs.ts';
import { SIGNAL } from '../../server/planner/background/tasks.ts';
import { createForecastPool, type Hand, type PlanTask } from '../../server/planner/index.ts';
import { lantern, scratch } from '../store/helpers.ts';
import { tideWall } from '../support/builds/tide-wall.ts';
import { bench, NOON, noonTap } from './helpers.ts';

const TASK: PlanTask = { build: lantern(), log: [], now: NOON, depth: 'deep' };

/** What a thread answers: a forecast in pieces. */
const PIECES = '[{ text: JSON.stringify({ steps: [] }) }]';
const PLANNED = `{ pieces: ${PIECES} }`;
const STATE = { build: lantern(), log: [], now: NOON, room: 0 };
const SPAN: LedgerSpan = { before: STATE, edits: [], after: STATE, former: [] };

function hand(): Hand {
  return { signal: new Int32Array(new SharedArrayBuffer(4)), progress: () => undefined };
}

test('a thread that cannot begin fails its tasks in a moment, and the next task tries anew', async () => {
  const file = join(scratch(), 'worker.mjs');
  const pool = createForecastPool(1, pathToFileURL(file));
  try {
    const both = [pool.plan(TASK, hand()), pool.attribute(SPAN, hand())];
    await expect(Promise.all(both)).rejects.toThrow(/worker\.mjs/);
    writeFileSync(file, `export const plan = () => (${PLANNED});`);
    expect(await pool.plan(TASK, hand())).toEqual({ steps: [] });
    rmSync(file);
  } finally {
    await pool.close();
  }
});

test('a thread that dies at its task fails that task alone', async () => {
  const file = join(scratch(), 'worker.mjs');
  writeFileSync(file, `export const plan = ({ task }) => (task.depth === 'deep' ? process.exit(3) : ${PLANNED});`);
  const pool = createForecastPool(1, pathToFileURL(file));
  try {
    await expect(pool.plan(TASK, hand())).rejects.toThrow(/exited with code: 3/);
    expect(await pool.plan({ ...TASK, depth: 'quick' }, hand())).toEqual({ steps: [] });
  } finally {
    await pool.close();
  }
});

test('a plan that nobody can take fails its task, and takes nothing else down', async () => {
  const file = join(scratch(), 'worker.mjs');
  const answer = `new Promise((resolve) => setTimeout(resolve, 100, ${PLANNED}))`;
  writeFileSync(
    file,
    `export const plan = ({ port }) => { port.postMessage({ plan: ${PIECES} }); return ${answer}; };`,
  );
  const pool = createForecastPool(1, pathToFileURL(file));
  const unheard: unknown[] = [];
  const hear = (reason: unknown): void => void unheard.push(reason);
  process.on('unhandledRejection', hear);
  try {
    const onPlan = (): void => {
      throw new Error('the disk is gone');
    };
    await expect(pool.plan(TASK, hand(), onPlan)).rejects.toThrow('the disk is gone');
    expect(await pool.plan(TASK, hand())).toEqual({ steps: [] });
    expect(unheard).toEqual([]);
  } finally {
    process.off('unhandledRejection', hear);
    await pool.close();
  }
});

test('a thread that hangs fails its task after a while, and the next task has a thread', async () => {
  const file = join(scratch(), 'worker.mjs');
  writeFileSync(file, `export const plan = ({ task }) => { while (task.depth === 'deep'); return ${PLANNED}; };`);
  const pool = createForecastPool(1, pathToFileURL(file), 2_000);
  try {
    await expect(pool.plan(TASK, hand())).rejects.toThrow(/abort/i);
    expect(await pool.plan({ ...TASK, depth: 'quick' }, hand())).toEqual({ steps: [] });
  } finally {
    await pool.close();
  }
});

test('the limit of a task counts from its beginning, however many wait before it', async () => {
  const file = join(scratch(), 'worker.mjs');
  writeFileSync(
    file,
    'export const plan = ({ task }) => { const end = Date.now() + 700; while (Date.now() < end); return { pieces: [{ text: JSON.stringify({ now: task.now }) }] }; };',
  );
  // Each takes 0.7 seconds and has three; all six take more than that.
  const pool = createForecastPool(1, pathToFileURL(file), 3_000);
  const jobs = createJobs();
  try {
    const asked = [1, 2, 3, 4, 5, 6].map((now) =>
      jobs.ask({
        kind: 'answer',
        build: `build-${now}`,
        version: { revision: 1, logSeq: 0 },
        run: (at) => pool.plan({ ...TASK, now }, at),
      }),
    );
    const ended = await Promise.all(asked);
    expect(ended.map((forecast) => forecast?.now)).toEqual([1, 2, 3, 4, 5, 6]);
  } finally {
    await pool.close();
  }
});

test('a thread says what is planned before it has drawn the chance', async () => {
  const pool = createForecastPool();
  const heard: string[] = [];
  try {
    const task = { ...TASK, depth: 'quick' } as const;
    const forecast = await pool.plan(task, hand(), ({ risk, room }) =>
      heard.push(`plan ${risk === undefined} ${room.readyBy.finish}`),
    );
    expect(heard.at(0)).toBe(`plan true ${forecast.room.readyBy.finish}`);
    expect(forecast.risk?.futures).toBe(500);
  } finally {
    await pool.close();
  }
});

test('a thread says how far it is, and ends soon with the best so far when that is enough', async () => {
  const pool = createForecastPool();
  const heard: number[] = [];
  const at = hand();
  const progress = (done: number, total: number): void => {
    heard.push(done / total);
    if (heard.length === 2) Atomics.store(at.signal, 0, SIGNAL.enough);
  };
  try {
    const { build } = tideWall(NOON);
    const forecast = await pool.plan({ ...TASK, build, lots: 30_000 }, { ...at, progress });
    expect(heard.length).toBeGreaterThanOrEqual(2);
    expect(heard).toEqual([...heard].sort((a, b) => a - b));
    expect(heard.at(-1)).toBeLessThanOrEqual(1);
    expect(forecast.risk?.futures).toBe(100);
  } finally {
    await pool.close();
  }
});

test('a count is kept and its forecast said to have failed where no thread can begin', async () => {
  const pool = createForecastPool(1, pathToFileURL(join(scratch(), 'nothing.mjs')));
  try {
    const { planner, errors } = await bench({ search: pool.plan });
    planner.append('lantern', [noonTap({ n: 10 })], 'maker');
    await planner.settled();
    expect(errors.length).toBeGreaterThan(0);
    const shown = planner.latest('lantern')!;
    expect([shown.failedAt, shown.version.logSeq, planner.log('lantern').length]).toEqual([NOON, 0, 1]);
    expect(shown.stale).toBe(true);
  } finally {
    await pool.close();
  }
});
