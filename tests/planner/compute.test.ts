import { expect, test } from 'vitest';
import { demoFile } from '../../seed/demo.ts';
import { computeQuick, computeTask } from '../../server/planner/compute.ts';

test('the search says the chance to be ready, the quick answer does not', () => {
  const now = Math.floor(Date.UTC(2026, 11, 1, 12) / 60_000);
  const { build, log = [] } = demoFile(now);
  expect(computeQuick(build, log, now).risk).toBeUndefined();
  const { risk } = computeTask({ build, log, now, depth: 'deep' });
  expect(risk!.readyBy.chance).toBeGreaterThan(0);
  expect(risk!.futures).toBeGreaterThanOrEqual(500);
  expect(JSON.parse(JSON.stringify(risk))).toEqual(risk);
});
