import { describe, expect, test } from 'vitest';
import { keptScheduleOf } from '../../../server/engine/07-levelling/index.ts';
import { parameterWorlds } from '../../../server/engine/08-risk/parameter-worlds.ts';
import { betaPertMoments } from '../../../server/engine/numbers/three-point.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import { workThrough } from '../../../server/engine/stages/index.ts';
import type { Build, LogEntry, Parameter, Step } from '../../../server/model/index.ts';
import { tideWall } from '../../support/builds/tide-wall.ts';
import { bench, NOW, risk } from './_bench.ts';

const RANGE = { low: 20, likely: 30, high: 54 };

/**
 * Fish as many as the parameter says: sawn in lots of 8 at five minutes, then two coats of ten minutes with a wait
 * each.
 */
function school(fish: Omit<Parameter, 'name'>, more: Partial<Build> = {}): Build {
  const saw: Step = {
    id: 'saw',
    name: 'saw',
    part: 'fish',
    lotSize: 8,
    origin: 'measured',
    phases: [{ kind: 'hands', perUnit: 5 }],
  };
  const paint: Step = { ...saw, id: 'paint', name: 'paint', phases: [{ kind: 'hands', perUnit: 10 }] };
  const steps = [saw, paint];
  const parts = [{ id: 'fish', name: 'fish', source: 'make' as const, count: 'fish' }];
  // Open day and night, and half a year without a lost day: what varies is the number of fish, and little else.
  const start = '2026-05-01T09:00';
  const people = [{ id: 'ria', name: 'Ria', hours: 'daily 00:00-24:00' }];
  return bench(steps, {
    parameters: [{ name: 'fish', ...fish }],
    parts,
    people,
    start,
    event: '2026-12-31T17:00',
    ...more,
  });
}

const worldsOf = (build: Build, seed = 1) => {
  const planned = workThrough({ build, log: [], now: NOW }, 'schedules');
  return parameterWorlds(planned, planned.schedule!, seed);
};
const count = ({ planned }: ReturnType<typeof worldsOf>[number], step: string) =>
  planned.plans.find(({ id }) => id === step)!.total;
const average = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

describe('uncertain parameters', () => {
  test('give worlds with more and fewer units at every step that they touch, and lots to match', () => {
    const worlds = worldsOf(school({ range: RANGE }));
    expect(new Set(worlds.map((world) => count(world, 'saw'))).size).toBeGreaterThan(5);
    for (const world of worlds) {
      expect(count(world, 'paint')).toBe(count(world, 'saw'));
      const units = world.planned.work.lots.map(({ firstUnit, lastUnit }) => lastUnit - firstUnit + 1);
      expect(units.reduce((sum, n) => sum + n, 0)).toBe(2 * count(world, 'saw'));
      expect([...world.schedule.activityList].sort((a, b) => a - b)).toEqual([...world.planned.work.lots.keys()]);
    }
  });

  // Mean and variance of the beta-PERT: (a + 4m + b) / 6 and (mean - a)(b - mean) / 7.
  test('have the mean and nearly the spread of their distribution, in whole numbers', () => {
    const counts = worldsOf(school({ range: RANGE })).map((world) => count(world, 'saw'));
    const { mean, variance } = betaPertMoments(RANGE);
    expect(counts.every(Number.isInteger)).toBe(true);
    expect(Math.abs(average(counts) - mean)).toBeLessThan(0.5);
    const spread = Math.sqrt(average(counts.map((n) => (n - average(counts)) ** 2)));
    expect(Math.abs(spread / Math.sqrt(variance) - 1)).toBeLessThan(0.1);
  });

  test('are each drawn in an order of their own, the same for a seed whatever else the build has', () => {
    const two = (more: Parameter[]) =>
      school(
        { range: RANGE },
        {
          parameters: [
            { name: 'fish', range: RANGE },
            { name: 'gap', range: RANGE },
            { name: 'both', formula: 'fish + gap' },
            ...more,
          ],
        },
      );
    const drawn = (build: Build, name: string) =>
      worldsOf(build).map(({ planned }) => planned.quantities.values.get(name)!);
    expect(drawn(two([]), 'gap')).not.toEqual(drawn(two([]), 'fish'));
    expect([...drawn(two([]), 'gap')].sort()).toEqual([...drawn(two([]), 'fish')].sort());
    expect(drawn(two([{ name: 'depth', value: 3 }]), 'fish')).toEqual(drawn(two([]), 'fish'));
  });

  test('widen the end around the mean of their counts, and show in the cruciality of the steps', () => {
    const held = risk(school({ value: 32 }));
    const drawn = risk(school({ range: RANGE }));
    const width = ({ readyAt }: typeof held) => readyAt.p90 - readyAt.p10;
    expect(width(drawn)).toBeGreaterThan(1.5 * width(held));
    expect(Math.abs(drawn.readyAt.p50 - held.readyAt.p50)).toBeLessThan(0.4 * width(drawn));
    for (const step of drawn.steps) expect(step.cruciality).toBeGreaterThan(0.6);
    const [all] = drawn.fans!;
    expect(all!.p90[0]).toBeGreaterThan(1.3 * all!.p10[0]!);
  });

  test('are held fixed where low and high are the same or a value is given', () => {
    for (const fish of [{ value: 30 }, { range: { low: 30, likely: 30, high: 30 } }]) {
      const worlds = worldsOf(school(fish));
      expect(worlds).toHaveLength(1);
      expect(count(worlds[0]!, 'saw')).toBe(30);
    }
  });
});

describe('an uncertain parameter that nothing uses', () => {
  const range = { low: 1, likely: 2, high: 9 };
  const without = ({ parameters = [], ...build }: Build) => ({
    ...build,
    parameters: parameters.map(({ range: uncertain, ...one }) =>
      uncertain ? { ...one, value: uncertain.likely } : one,
    ),
  });

  test('changes no future, however the work is planned: who has what in hand, who was to do it, what waits', () => {
    const { build: demo, log = [] } = tideWall(NOW);
    const build = without(demo);
    const unused = { ...build, parameters: [...build.parameters, { name: 'unused', range }] };
    const first = planBuild(build, log, NOW, { levelling: { seed: 1, schedules: 100 } });
    const step = first.lots.find(({ levelled, begun }) => levelled !== null && !begun)!;
    const began: LogEntry = {
      id: 'entry-began-x',
      kind: 'began',
      step: step.step,
      person: step.placements[0]!.people[0]!,
      at: new Date((NOW - 5) * 60_000).toISOString(),
    };
    for (const days of [0, 1]) {
      const now = NOW + days * 1440;
      const asked = {
        levelling: { seed: 1, schedules: 100 },
        former: keptScheduleOf(first),
        risk: { seed: 1, futures: 100 },
      };
      const entries = days === 0 ? [...log, began] : log;
      expect(planBuild(unused, entries, now, asked).risk).toEqual(planBuild(build, entries, now, asked).risk);
    }
  });

  test('is not drawn where the case gives it a value', () => {
    const build = school({ range: RANGE });
    const planned = workThrough({ build, log: [], now: NOW, overrides: new Map([['fish', 25]]) }, 'schedules');
    const worlds = parameterWorlds(planned, planned.schedule!, 1);
    expect(worlds.map((world) => count(world, 'saw'))).toEqual([25]);
  });
});
