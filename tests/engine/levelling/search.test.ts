import { describe, expect, test } from 'vitest';
import { level } from '../../../server/engine/levelling/index.ts';
import { faultsOf } from '../../support/check-schedule.ts';
import { randomWork } from '../../support/random-work.ts';

describe('the search for a better order of work', () => {
  test('gives schedules without fault that are never later than the first pass', () => {
    for (let seed = 1; seed <= 25; seed++) {
      const work = randomWork({ seed, lots: 5 + (seed % 30) });
      const first = level(work, { seed }).schedule;
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
});
