/** The plan before anything was counted, and what is compared with it. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { planBuild } from '../../../server/engine/plan.ts';
import { workThrough } from '../../../server/engine/stages/index.ts';
import { type Build, checkBuild, type Forecast, type LogEntry } from '../../../server/model/index.ts';
import { tideWall } from '../../support/builds/tide-wall.ts';
import { anyBuild, anyLog, entriesOf, NOW } from '../../support/random-builds.ts';
import { at } from '../_filing.ts';

const BEGIN = at('2026-11-30T09:00');

/**
 * Three panels of four units each, forty minutes a panel; the first must cure for two days and pass before the others
 * are begun.
 */
function panels(proveFirst: boolean, event = '2026-12-10T19:00'): Build {
  return {
    id: 'panels',
    name: 'Panels',
    zone: 'UTC',
    start: '2026-11-30T09:00',
    event,
    sets: { count: 3, name: 'panel' },
    people: [{ id: 'ria', name: 'Ria', hours: 'always' }],
    steps: [
      {
        id: 'mount',
        name: 'mount',
        perSet: true,
        count: 4,
        lotSize: 4,
        phases: [{ kind: 'hands', perUnit: 10 }],
        origin: 'measured',
      },
      { id: 'cure', name: 'cure', perSet: true, takes: '2 d', after: ['mount'] },
    ],
    gates: [{ id: 'prove', name: 'prove', perSet: true, after: ['cure'], minutes: 30, proveFirst, holds: ['mount'] }],
  };
}

const counted = (n: number, minutes: number): LogEntry[] => [
  {
    id: `entry-${n}-xxxx`,
    kind: 'done',
    step: 'mount',
    set: 1,
    n,
    at: new Date((BEGIN + minutes) * 60_000).toISOString(),
  },
];

/** Minutes after the beginning, and units left. */
const lineOf = ({ burn }: Forecast, step = 'mount') =>
  burn.find((line) => line.step === step)!.planned.map(([when, left]) => [when - BEGIN, left]);

describe('the first plan', () => {
  // By hand: 40 minutes for a panel; then two days of curing and half an hour of proof; then the two others, 40 minutes
  // each.
  const proved = [
    [0, 12],
    [40, 8],
    [40 + 2880 + 30 + 40, 4],
    [40 + 2880 + 30 + 80, 0],
  ];

  test('proves the first set before the others are begun, before anything is counted and after it', () => {
    const build = panels(true);
    expect(lineOf(planBuild(build, [], BEGIN))).toEqual(proved);
    expect(lineOf(planBuild(build, counted(1, 10), BEGIN + 10))).toEqual(proved);
    expect(lineOf(planBuild(build, counted(4, 40), BEGIN + 180))).toEqual(proved);
  });

  test('does not wait where nothing has to be proved', () => {
    const free = [0, 40, 80, 120].map((minutes, i) => [minutes, 12 - 4 * i]);
    expect(lineOf(planBuild(panels(false), [], BEGIN))).toEqual(free);
    expect(lineOf(planBuild(panels(false), counted(4, 40), BEGIN + 180))).toEqual(free);
  });

  test('finds no fault with a first panel that was made as planned', () => {
    const forecast = planBuild(panels(true), counted(4, 40), BEGIN + 180);
    expect(forecast.burn.find(({ step }) => step === 'mount')).toMatchObject({ left: 8, plannedLeft: 8 });
    const checks = forecast.soundness!.filter(({ code }) => code === 'missed' || code === 'execution-index');
    expect(checks.map(({ fine }) => fine)).toEqual([true, true]);
  });

  test('is of the hours as they were thought of, whatever was lost since', () => {
    const lost: LogEntry = {
      id: 'entry-lost-xx',
      kind: 'lost',
      at: '2026-11-30T09:00:00Z',
      until: '2026-11-30T12:00:00Z',
    };
    expect(lineOf(planBuild(panels(true), [lost, ...counted(4, 220)], BEGIN + 300))).toEqual(proved);
  });

  test('does not begin before the build does, where something was logged sooner', () => {
    const early = { ...panels(false), start: '2026-12-01T09:00' };
    const forecast = planBuild(early, counted(1, 10), BEGIN + 60);
    expect(lineOf(forecast)[0]).toEqual([1440, 12]);
  });

  test('is the schedule of the build as it was before anything was counted, whatever the build', () => {
    const planAtFirst = (build: Build, begin: number) =>
      planBuild(build, [], begin, { levelling: { seed: 1, schedules: 20 } }).burn;
    const sameLines = (build: Build, log: readonly LogEntry[], now: number): number => {
      const { surroundings, tally } = workThrough({ build, log, now }, 'work');
      if (tally.firstAt === null) return 0;
      const begin = Math.min(surroundings.start ?? tally.firstAt, now);
      const first = planAtFirst(build, begin);
      for (const { step, planned } of planBuild(build, log, now, { levelling: { seed: 1, schedules: 1 } }).burn) {
        expect(planned, String(step)).toEqual(first.find((line) => line.step === step)?.planned ?? []);
      }
      return 1;
    };
    const demo = tideWall(NOW);
    let held = sameLines(demo.build, demo.log!, NOW) + sameLines(panels(true), counted(1, 10), BEGIN + 10);
    fc.assert(
      fc.property(anyBuild, anyLog, (candidate, told) => {
        const checked = checkBuild(JSON.parse(JSON.stringify(candidate)));
        if (checked.ok) held += sameLines(checked.value, entriesOf(told), NOW);
      }),
      { seed: 3, numRuns: 40 },
    );
    expect(held).toBeGreaterThan(20);
  });
});

describe('the line of balance', () => {
  // By hand, backwards from Fri 4 Dec 19:00: the last panel is proved in half an hour after two days of curing, so the
  // last two are mounted on Wed 2 Dec from 17:10 to 18:30; the first is proved by 17:10, so it cures from Mon 30 Nov
  // 16:40.
  const dueOf = (log: readonly LogEntry[], now: number) =>
    planBuild(panels(true, '2026-12-04T19:00'), log, now).balance!.steps.find(({ step }) => step === 'mount')!.due;

  test('asks for the first set in time to be proved, before anything is counted and after it', () => {
    for (const log of [[], counted(1, 10)]) {
      expect(dueOf(log, at('2026-11-30T15:59'))).toBe(0);
      expect(dueOf(log, at('2026-11-30T16:41'))).toBe(4);
      expect(dueOf(log, at('2026-12-02T17:09'))).toBe(4);
    }
    expect(dueOf(counted(1, 10), at('2026-12-02T18:31'))).toBe(12);
  });

  test('knows of hours that will be lost, which make units due sooner', () => {
    const friday: LogEntry = {
      id: 'entry-lost-xx',
      kind: 'lost',
      at: '2026-12-03T00:00:00Z',
      until: '2026-12-04T19:00:00Z',
    };
    const build = { ...panels(false, '2026-12-04T19:00'), steps: panels(false).steps.slice(0, 1), gates: [] };
    const due = (log: readonly LogEntry[]) =>
      planBuild(build, log, BEGIN + 3 * 1440).balance!.steps.find(({ step }) => step === 'mount')!.due;
    expect(due(counted(1, 10))).toBe(0);
    expect(due([...counted(1, 10), friday])).toBe(12);
  });
});
