import { describe, expect, it } from 'vitest';
import { compile, level, levelBackwards } from '../../../server/engine/07-levelling/index.ts';
import { planBuild } from '../../../server/engine/plan.ts';
import type { Build, Forecast } from '../../../server/model/index.ts';
import { tideWall } from '../../support/builds/tide-wall.ts';
import { randomWork } from '../../support/random-work.ts';

const now = Math.floor(Date.UTC(2026, 11, 1, 12) / 60_000);
const plan = (build: Build, log = tideWall(now).log) =>
  planBuild(build, log ?? [], now, { levelling: { seed: 1, schedules: 60 } });

/**
 * One pair of hands, four hours a day from 1 December; two jobs of four hours each and an order that feeds the second.
 */
const twoJobs = (readyBy: string): Build => ({
  id: 'two-jobs',
  name: 'Two jobs',
  zone: 'UTC',
  readyBy,
  event: '2026-12-20T18:00',
  people: [{ id: 'ada', name: 'Ada', hours: 'daily 08:00-12:00' }],
  suppliers: [{ id: 'post', name: 'Post', lead: 1, workingDays: 'mon-sun' }],
  steps: [
    {
      id: 'order',
      name: 'order hinges',
      phases: [
        { kind: 'hands', minutes: 15 },
        { kind: 'lead', supplier: 'post' },
      ],
    },
    { id: 'plane', name: 'plane boards', phases: [{ kind: 'hands', minutes: 240 }] },
    { id: 'hinge', name: 'fit hinges', after: ['order'], phases: [{ kind: 'hands', minutes: 225 }] },
  ],
});
const stepOf = ({ steps }: Forecast, id: string) => steps.find((step) => step.id === id)!;
const at = (wall: string) => Date.parse(`${wall}Z`) / 60_000;

describe('the last moment of an order', () => {
  it('keeps the ready-by where no hour of the machine is long enough for what follows the delivery, and threatens nothing', () => {
    const build: Build = {
      ...twoJobs('2026-12-04T12:00'),
      machines: [{ id: 'press', name: 'Press', hours: 'daily 09:00-11:00', overnight: false }],
      steps: [
        {
          id: 'pressed',
          name: 'pressed boards',
          phases: [
            { kind: 'lead', supplier: 'post' },
            { kind: 'run', machine: 'press', minutes: 121 },
          ],
        },
        { id: 'plane', name: 'plane boards', phases: [{ kind: 'hands', minutes: 240 }] },
      ],
    };
    const { orders, threats, problems } = plan(build, []);
    const [readyBy, orderBy] = [at('2026-12-04T12:00'), at('2026-12-03T17:00')];
    expect(orders).toMatchObject([{ step: 'pressed', neededBy: readyBy, orderBy, state: 'to-order' }]);
    expect([threats, problems.map(({ code }) => code)]).toEqual([[], ['beyond-horizon']]);
  });
});

describe('the last moment of a step', () => {
  it('counts the hands that the other steps take, where the chain alone would promise more', () => {
    const forecast = plan(twoJobs('2026-12-04T12:00'), []);
    const { levelled, dates } = stepOf(forecast, 'plane');
    // Both jobs and the order need 480 minutes of the three mornings to the ready-by; either can be last, not both.
    const lasts = ['plane', 'hinge'].map((id) => stepOf(forecast, id).levelled!.lastStart!);
    expect(Math.min(...lasts)).toBeLessThan(at('2026-12-04T08:00'));
    expect(dates!.lateStart).toBe(at('2026-12-04T08:00'));
    expect(levelled!.room).toBeLessThanOrEqual(dates!.totalSlackClock!);
  });

  it('is sought in a tenth of the time of a search, in twenty orders at least and sixty at most', () => {
    const work = randomWork({ seed: 3, lots: 12 });
    const tries = (milliseconds: number) => {
      let now = 0;
      const clock = () => now++;
      return levelBackwards(work, { seed: 1, milliseconds, clock }).schedules;
    };
    const [hurried, some, unhurried] = [1, 300, 10_000].map(tries);
    expect(hurried).toBe(20);
    expect(some).toBeGreaterThan(20);
    expect(some).toBeLessThan(unhurried!);
    expect(unhurried).toBe(60);
  });

  it('is never before its planned start while every deadline is kept', () => {
    const { build } = tideWall(now);
    const forecast = plan(build);
    expect(forecast.room.readyBy.clock).toBeGreaterThan(0);
    for (const lot of forecast.lots) expect(lot.levelled!.room, lot.id).toBeGreaterThanOrEqual(0);
    for (const step of forecast.steps.filter(({ left }) => left > 0)) {
      const rooms = forecast.lots.filter((lot) => lot.step === step.id).map((lot) => lot.levelled!.room!);
      expect(step.levelled!.room, step.id).toBe(Math.min(...rooms));
    }
  });

  it('is when somebody was there, even where it has passed', () => {
    const forecast = plan(twoJobs('2026-12-01T12:00'), []);
    const { lastStart, room } = stepOf(forecast, 'plane').levelled!;
    expect(lastStart).toBeLessThan(now);
    const minute = lastStart! % 1440;
    expect([minute >= 480, minute < 720, room! < 0]).toEqual([true, true, true]);
  });

  it('is kept by what must be ordered for it', () => {
    const forecast = plan(twoJobs('2026-12-04T12:00'), []);
    const [order] = forecast.orders;
    expect(order!.orderBy).toBeLessThanOrEqual(stepOf(forecast, 'order').levelled!.lastStart! + 15);
    expect(order!.orderBy).toBeLessThanOrEqual(order!.neededBy);
  });
});

it('leaves the tightest lot at least the room that the schedule moved to the right does', () => {
  for (let seed = 1; seed <= 12; seed++) {
    const given = randomWork({ seed, lots: 20, simple: true });
    const compiled = compile(given);
    const forwards = level(given, { seed, schedules: 30 }, compiled);
    const roomOf = (schedules: number) => {
      const { schedule } = levelBackwards(given, { seed, schedules }, compiled, forwards);
      const rooms = given.lots.flatMap((lot, l) =>
        lot.phases.length === 0 || lot.onSite ? [] : [schedule.starts[l]! - forwards.schedule.starts[l]!],
      );
      return Math.min(...rooms);
    };
    expect(roomOf(40), `seed ${seed}`).toBeGreaterThanOrEqual(roomOf(1));
    expect(roomOf(1), `seed ${seed}`).toBeGreaterThan(0);
  }
});
