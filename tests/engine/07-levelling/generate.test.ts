import { describe, expect, it } from 'vitest';
import { compile, level, levelBackwards } from '../../../server/engine/07-levelling/index.ts';
import { faultsOf } from '../../support/check-schedule.ts';
import { randomWork } from '../../support/random-work.ts';

describe('generation over random builds', () => {
  it('gives schedules in which an independent judge finds no fault', () => {
    for (let seed = 1; seed <= 60; seed++) {
      const work = randomWork({ seed, lots: 5 + (seed % 40) });
      const levelled = level(work, { seed, schedules: 40 });
      expect(faultsOf(work, levelled.schedule), `seed ${seed}`).toEqual([]);
      expect(levelled.beyond).toEqual([]);
    }
  });

  it('does so with pieces that are turned over, work in one go and large crews too, and proves nothing that is not so', () => {
    for (let seed = 1; seed <= 60; seed++) {
      const work = randomWork({ seed, lots: 5 + (seed % 30), wide: true });
      const compiled = compile(work);
      const { schedule, bound, beyond } = level(work, { seed, schedules: 60 }, compiled);
      expect(faultsOf(work, schedule), `seed ${seed}`).toEqual([]);
      expect(beyond).toEqual([]);
      expect(bound.readyAt, `seed ${seed}`).toBeLessThanOrEqual(schedule.readyAt);
      const backwards = levelBackwards(work, { seed, schedules: 5 }, compiled).schedule;
      expect(faultsOf(work, backwards, 'backwards'), `seed ${seed} backwards`).toEqual([]);
    }
  });

  it('gives backward schedules without fault that end by the deadlines', () => {
    for (let seed = 1; seed <= 60; seed++) {
      const work = randomWork({ seed, lots: 5 + (seed % 40) });
      const compiled = compile(work);
      const levelled = levelBackwards(work, { seed }, compiled);
      expect(faultsOf(work, levelled.schedule, 'backwards'), `seed ${seed}`).toEqual([]);
    }
  });
});
