import { describe, expect, test } from 'vitest';
import { level } from '../../../server/engine/levelling/index.ts';
import { faultsOf } from '../../support/check-schedule.ts';
import { solveWork } from '../../support/solve-work.ts';
import { tinyWork } from '../../support/tiny-work.ts';

const SEEDS = 40;

describe('builds so small that a general solver knows their optimum', () => {
  const cases = Array.from({ length: SEEDS }, (_, i) => {
    const work = tinyWork(i + 1, 4);
    const { schedule, bound, verdict } = level(work, { seed: 1, schedules: 200 });
    return { name: `build ${i + 1}`, work, schedule, bound, verdict, solved: solveWork(work, schedule.readyAt) };
  });

  test('get schedules without fault, none better than the optimum and five in six as good', () => {
    for (const { name, work, schedule, solved } of cases) {
      expect(faultsOf(work, schedule), name).toEqual([]);
      expect(schedule.readyAt, name).toBeGreaterThanOrEqual(solved!.readyAt);
    }
    const best = cases.filter(({ schedule, solved }) => schedule.readyAt === solved!.readyAt);
    // The rest would need a person who takes later work first, or a lot whose unloading waits for another: no order of lots says that.
    expect(best.length).toBeGreaterThanOrEqual((SEEDS * 5) / 6);
  });

  test('get bounds that no optimum beats, and most of them are met', () => {
    for (const { name, bound, solved } of cases) expect(bound.readyAt, name).toBeLessThanOrEqual(solved!.readyAt);
    expect(cases.filter(({ verdict }) => verdict !== 'gap').length).toBeGreaterThanOrEqual((SEEDS * 3) / 5);
  });

  test('are never called impossible when the solver is ready in time', () => {
    for (const { name, work, verdict, solved } of cases) {
      if (solved!.readyAt <= work.readyBy) expect(verdict, name).not.toBe('impossible');
    }
  });
});
