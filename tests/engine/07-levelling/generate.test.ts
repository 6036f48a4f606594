import { describe, expect, it } from 'vitest';
import { reachOf } from '../../../server/engine/07-levelling/bounds/reach.ts';
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

  it('does so with much under way, whose ends wait for other work, and says no end earlier than any schedule has it', () => {
    let waits = 0;
    // With the last two a crew that is slow but meets the end asked for is earlier than whoever is there first.
    for (const seed of [...Array.from({ length: 60 }, (_, i) => i + 1), 348, 442]) {
      const work = randomWork({ seed, lots: 5 + (seed % 30), wide: seed % 2 === 0, begun: true });
      const isUnderWay = (l: number) => work.lots[l]!.begunAt !== null;
      waits += work.links.filter(({ to, type }) => isUnderWay(to) && type.endsWith('-finish')).length;
      const compiled = compile(work);
      const { schedule, bound, beyond } = level(work, { seed, schedules: 30 }, compiled);
      expect(faultsOf(work, schedule), `seed ${seed}`).toEqual([]);
      expect(beyond, `seed ${seed}`).toEqual([]);
      expect(bound.readyAt, `seed ${seed}`).toBeLessThanOrEqual(schedule.readyAt);
      const { finishes } = reachOf(compiled.forward);
      work.lots.forEach((_, l) => {
        expect(finishes[l]!, `seed ${seed}, lot ${l}`).toBeLessThanOrEqual(schedule.finishes[l]!);
      });
      const backwards = levelBackwards(work, { seed, schedules: 5 }, compiled).schedule;
      expect(faultsOf(work, backwards, 'backwards'), `seed ${seed} backwards`).toEqual([]);
    }
    expect(waits).toBeGreaterThan(30);
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
