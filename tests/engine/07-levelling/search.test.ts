import { describe, expect, test } from 'vitest';
import { level } from '../../../server/engine/07-levelling/index.ts';
import { Random } from '../../../server/engine/numbers/random.ts';
import type { Work } from '../../../server/engine/types.ts';
import { faultsOf } from '../../support/check-schedule.ts';
import { randomWork } from '../../support/random-work.ts';
import { textbookWork } from '../../support/textbook-work.ts';

describe('the search for a better order of work', () => {
  test('gives schedules without fault that are never later than the first pass', () => {
    for (let seed = 1; seed <= 25; seed++) {
      const work = randomWork({ seed, lots: 5 + (seed % 30) });
      const first = level(work, { seed, schedules: 1 }).schedule;
      const better = level(work, { seed, schedules: 150 }).schedule;
      expect(faultsOf(work, better), `seed ${seed}`).toEqual([]);
      expect(better.readyAt, `seed ${seed}`).toBeLessThanOrEqual(first.readyAt);
    }
  });

  test('is the same for the same seed and budget', () => {
    const work = randomWork({ seed: 3, lots: 30 });
    const starts = () => Array.from(level(work, { seed: 9, schedules: 120 }).schedule.starts);
    expect(starts()).toEqual(starts());
  });

  test('keeps to the schedules it is given, in small works and large', () => {
    for (const lots of [3, 12, 60]) {
      const work = randomTextbook(lots);
      const { schedule, schedules } = level(work, { seed: 5, schedules: 4000, nodes: 0 });
      expect(schedules, `${lots} lots`).toBeLessThanOrEqual(4000);
      expect(faultsOf(work, schedule), `${lots} lots`).toEqual([]);
    }
  });

  test('gives the same schedule twice where several populations grow apart', () => {
    const work = randomTextbook(20);
    const starts = () => Array.from(level(work, { seed: 5, schedules: 12_000, nodes: 0 }).schedule.starts);
    expect(starts()).toEqual(starts());
  });
});

/** An invented textbook work: lots of 1 to 10 minutes with up to two successors each, and two pools. */
function randomTextbook(lots: number): Work {
  const random = new Random(7);
  return textbookWork(
    [6, 8],
    Array.from({ length: lots }, (_, i) => ({
      minutes: 1 + random.below(10),
      demands: [random.below(5), random.below(6)],
      successors: [i + 1 + random.below(4), i + 5 + random.below(4)].filter((to) => to < lots),
    })),
  );
}
