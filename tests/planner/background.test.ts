import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, test } from 'vitest';
import type { LedgerSpan } from '../../server/engine/11-ledger/index.ts';
import { createForecastPool } from '../../server/planner/background.ts';
import { lantern, scratch } from '../store/helpers.ts';
import { bench, NOON, noonTap } from './helpers.ts';

const TASK = { build: lantern(), log: [], now: NOON, depth: 'deep' } as const;

test('a thread that cannot begin fails its tasks in a moment, and the next task tries anew', async () => {
  const file = join(scratch(), 'worker.mjs');
  const pool = createForecastPool(1, pathToFileURL(file));
  try {
    await expect(Promise.all([pool.search(TASK), pool.attribute({} as LedgerSpan)])).rejects.toThrow(/worker\.mjs/);
    writeFileSync(file, 'export default () => ({ steps: [] });');
    expect(await pool.search(TASK)).toEqual({ steps: [] });
    rmSync(file);
  } finally {
    await pool.close();
  }
});

test('a thread that dies at its task fails that task alone', async () => {
  const file = join(scratch(), 'worker.mjs');
  writeFileSync(file, "export default ({ depth }) => (depth === 'deep' ? process.exit(3) : { steps: [] });");
  const pool = createForecastPool(1, pathToFileURL(file));
  try {
    await expect(pool.search(TASK)).rejects.toThrow(/exited with code: 3/);
    expect(await pool.search({ ...TASK, depth: 'quick' })).toEqual({ steps: [] });
  } finally {
    await pool.close();
  }
});

test('a thread that hangs fails its task after a while, and the next task has a thread', async () => {
  const file = join(scratch(), 'worker.mjs');
  writeFileSync(file, "export default ({ depth }) => { while (depth === 'deep'); return { steps: [] }; };");
  const pool = createForecastPool(1, pathToFileURL(file), 400);
  try {
    await expect(pool.search(TASK)).rejects.toThrow(/abort/i);
    expect(await pool.search({ ...TASK, depth: 'quick' })).toEqual({ steps: [] });
  } finally {
    await pool.close();
  }
});

test('a count is kept and its forecast said to have failed where no thread can begin', async () => {
  const pool = createForecastPool(1, pathToFileURL(join(scratch(), 'nothing.mjs')));
  try {
    const { planner, errors } = bench({ search: pool.search });
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
