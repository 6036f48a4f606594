import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import { workThrough } from '../../../server/engine/stages/index.ts';
import { type Build, checkBuild, type LogEntry } from '../../../server/model/index.ts';
import { tideWall } from '../../support/builds/tide-wall.ts';
import { faultsOf } from '../../support/check-schedule.ts';
import { anyBuild, anyLog, entriesOf, NOW } from '../../support/random-builds.ts';
import { wordedChecks } from '../../support/words.ts';

/** What an independent judge says of the schedules of a build, and whether its bound lies beyond them. */
function faultsOfPlan(build: Build, entries: readonly LogEntry[], now: number): string[] {
  const { work, schedule, beyond, proof } = workThrough({ build, log: entries, now }, 'schedules');
  if (schedule === null || beyond.size > 0) return [];
  const faults = faultsOf(work, schedule);
  if (proof!.bound.readyAt > schedule.readyAt) faults.push(`bound ${proof!.bound.readyAt} > ${schedule.readyAt}`);
  return faults;
}

describe('any build that has the shape of one', () => {
  test('is planned or has its problems named, and never throws', () => {
    fc.assert(
      fc.property(anyBuild, anyLog, (candidate, told) => {
        const checked = checkBuild(JSON.parse(JSON.stringify(candidate)));
        if (!checked.ok) {
          expect(checked.problems[0]!.message).not.toBe('');
          return;
        }
        const forecast = planBuild(checked.value, entriesOf(told), NOW);
        // As JSON they would be null.
        const finite = (_: string, value: unknown) =>
          Number.isFinite(value) || typeof value !== 'number' ? value : `${value}`;
        expect(JSON.stringify(forecast, finite)).not.toMatch(/NaN|Infinity/);
        for (const counted of forecast.steps) {
          expect(counted.left).toBeGreaterThanOrEqual(0);
          expect(counted.done + counted.left).toBe(counted.total);
        }
        for (const { code, fine, message, value } of wordedChecks(forecast)) {
          expect([fine, Number.isFinite(value)]).toEqual([message === null, true]);
          if (forecast.complete && code === 'totals') expect(message).toBeNull();
          if (code === 'invalid-date') expect(message ?? '').toBe('');
        }
        for (const lot of forecast.lots) {
          if (lot.levelled !== null && !lot.begun) expect(lot.levelled.start).toBeGreaterThanOrEqual(NOW);
        }
      }),
      { seed: 7, numRuns: 150 },
    );
  });

  test('gets a schedule in which an independent judge finds no fault, and no bound beyond it', () => {
    fc.assert(
      fc.property(anyBuild, anyLog, (candidate, told) => {
        const checked = checkBuild(JSON.parse(JSON.stringify(candidate)));
        if (checked.ok) expect(faultsOfPlan(checked.value, entriesOf(told), NOW)).toEqual([]);
      }),
      { seed: 11, numRuns: 60 },
    );
    for (const days of [0, 3, 6]) {
      const demo = tideWall(NOW);
      expect(faultsOfPlan(demo.build, demo.log ?? [], NOW + days * 1440)).toEqual([]);
    }
  });
});
