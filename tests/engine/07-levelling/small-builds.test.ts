import { describe, expect, test } from 'vitest';
import { level } from '../../../server/engine/07-levelling/index.ts';
import type { Schedule, Work } from '../../../server/engine/types.ts';
import { faultsOf } from '../../support/check-schedule.ts';
import { solveWork } from '../../support/solve-work.ts';
import { DAY, tinyWork } from '../../support/tiny-work.ts';

const SEEDS = 40;

describe('builds so small that a general solver knows their optimum', () => {
  const cases = Array.from({ length: SEEDS }, (_, i) => {
    const work = tinyWork(i + 1, 4);
    const { schedule, bound, verdict } = level(work, { seed: 1 });
    const solved = solveWork(work, schedule.readyAt)!;
    // Pins come before the ready finish; a day more for the solver to keep them in.
    const isPinned = work.lots.some(({ pinnedStart }) => pinnedStart !== null);
    const keepingPins = isPinned ? solveWork(work, schedule.readyAt + DAY, true)! : solved;
    return { name: `build ${i + 1}`, work, schedule, bound, verdict, solved, keepingPins };
  });

  test('get schedules without fault that are as good as the optimum, pins first', () => {
    for (const { name, work, schedule, keepingPins } of cases) {
      expect(faultsOf(work, schedule), name).toEqual([]);
      const { pinMinutes, readyAt } = keepingPins;
      expect([pinMinutesOf(work, schedule), schedule.readyAt], name).toEqual([pinMinutes, readyAt]);
    }
  });

  test('are ready no earlier than can be', () => {
    for (const { name, schedule, solved } of cases)
      expect(schedule.readyAt, name).toBeGreaterThanOrEqual(solved.readyAt);
  });

  test('get bounds that no optimum beats, and most of them are met', () => {
    for (const { name, bound, solved } of cases) expect(bound.readyAt, name).toBeLessThanOrEqual(solved.readyAt);
    expect(cases.filter(({ verdict }) => verdict !== 'gap').length).toBeGreaterThanOrEqual((SEEDS * 3) / 5);
  });

  test('are never called impossible when the solver is ready in time', () => {
    for (const { name, work, verdict, solved } of cases) {
      if (solved.readyAt <= work.readyBy) expect(verdict, name).not.toBe('impossible');
    }
  });
});

function pinMinutesOf(work: Work, { starts }: Schedule): number {
  return work.lots.reduce((sum, { pinnedStart }, l) => sum + Math.max(0, starts[l]! - (pinnedStart ?? starts[l]!)), 0);
}
