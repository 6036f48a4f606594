import { expect, test } from 'vitest';
import { keptScheduleOf } from '../../server/engine/07-levelling/replan/kept-schedule.ts';
import { planBuild } from '../../server/engine/index.ts';
import type { Forecast, LogEntry } from '../../server/model/index.ts';
import { computePlan } from '../../server/planner/index.ts';
import { lateShifts } from '../support/builds/late-shifts.ts';
import { tideWall } from '../support/builds/tide-wall.ts';

test('what runs behind says the chance to be ready, soon from fewer futures and then from more; the check of an edit does not', async () => {
  const now = Math.floor(Date.UTC(2026, 11, 1, 12) / 60_000);
  const { build, log = [] } = tideWall(now);
  expect(computePlan({ build, log, now, depth: 'quick', noChance: true }).risk).toBeUndefined();
  const soon = computePlan({ build, log, now, depth: 'quick' }).risk!;
  expect(soon.futures).toBe(500);
  const { risk } = computePlan({ build, log, now, depth: 'deep' });
  expect(risk!.readyBy.chance).toBeGreaterThan(0);
  expect(risk!.futures).toBeGreaterThanOrEqual(500);
  expect(Math.abs(soon.readyBy.chance - risk!.readyBy.chance)).toBeLessThan(4 * soon.readyBy.error);
  expect(JSON.parse(JSON.stringify(risk))).toEqual(risk);
});

test('work that is told from the start that it is enough is no search, and draws the fewest futures', () => {
  const now = Math.floor(Date.UTC(2026, 11, 1, 12) / 60_000);
  const { build, log = [] } = tideWall(now);
  const watch = { clock: () => 0, isEnough: () => true, progress: () => undefined };
  const forecast = computePlan({ build, log, now, depth: 'deep' }, watch);
  expect(forecast.risk!.futures).toBe(100);
  expect(forecast.room.readyBy.finish).not.toBeNull();
});

test.each(['quick', 'deep'] as const)('a %s answer says how far it is from its plan to its last future', (depth) => {
  const now = Math.floor(Date.UTC(2026, 11, 1, 12) / 60_000);
  const { build, log = [] } = tideWall(now);
  const heard: number[] = [];
  const progress = (done: number, total: number) => void heard.push(done / total);
  computePlan({ build, log, now, depth }, { clock: () => 0, isEnough: () => false, progress });
  expect(heard).toEqual([...heard].sort((a, b) => a - b));
  expect([heard.at(0)! <= 0.05, heard.at(-1)! > 0.3, heard.at(-1)! <= 1]).toEqual([true, true, true]);
});

test('a count does not throw the first answer an evening behind the plan that stands', async () => {
  const now = Date.UTC(2026, 10, 25, 19, 20) / 60_000;
  const { build, log = [] } = tideWall(now);
  const stands = computePlan({ build, log, now, depth: 'deep' });
  const entry: LogEntry = { id: 'tap-000001', kind: 'done', step: 'prime', n: 5, at: '2026-11-25T19:20:00Z', seq: 99 };
  const answer = computePlan({ build, log: [...log, entry], now, depth: 'quick', former: keptScheduleOf(stands) });
  expect(Math.abs(answer.room.readyBy.clock! - stands.room.readyBy.clock!)).toBeLessThan(60);
});

test('a search leaves no build with less of a chance than the order it began with, where both are ready at once', () => {
  const { build, log, now } = lateShifts();
  const [soon, found] = (['quick', 'deep'] as const).map((depth) => computePlan({ build, log, now, depth }));
  expect(found!.room.readyBy.finish).toBe(soon!.room.readyBy.finish);
  expect(soon!.risk!.readyBy.chance).toBeGreaterThan(0.7);
  expect(found!.risk!.readyBy.chance).toBeGreaterThan(soon!.risk!.readyBy.chance - 4 * soon!.risk!.readyBy.error);
});

test('a plan that somebody finds not worth it is answered without futures', () => {
  const { build, log, now } = lateShifts();
  const asked: (number | null)[] = [];
  const isWorthRisk = ({ room }: Forecast): boolean => asked.push(room.readyBy.finish) > 1;
  const options = { levelling: { seed: 1, schedules: 5 }, risk: { seed: 1, futures: 10 }, isWorthRisk };
  const [without, with10] = [1, 2].map(() => planBuild(build, log, now, options));
  expect(without!.risk).toBeUndefined();
  expect(with10!.risk!.futures).toBe(10);
  expect(asked).toEqual([without!.room.readyBy.finish, with10!.room.readyBy.finish]);
});
