import { describe, expect, it } from 'vitest';
import { keptScheduleOf } from '../../server/engine/07-levelling/replan/kept-schedule.ts';
import { planBuild } from '../../server/engine/plan.ts';
import type { Build } from '../../server/model/index.ts';
import { readSchedule } from '../../server/planner/background/former.ts';
import type { GroundState } from '../../server/planner/ground.ts';
import { createKeptSchedules } from '../../server/planner/kept-schedules.ts';
import { openStore } from '../store/helpers.ts';

const NOON = Date.UTC(2026, 10, 30, 12) / 60_000;

/** Frames cut one after the other, as many as are asked for. */
function frames(count: number): Build {
  return {
    id: 'wall',
    name: 'Wall of frames',
    zone: 'UTC',
    event: '2026-12-12T18:00',
    people: [{ id: 'ada', name: 'Ada', hours: 'daily 08:00-18:00' }],
    steps: [{ id: 'cut', name: 'cut frames', count, lotSize: 4, phases: [{ kind: 'hands', perUnit: 10 }] }],
  };
}

const forecastOf = (build: Build, now = NOON) => planBuild(build, [], now);
const stateOf = (revision: number, build: Build) =>
  ({ key: 1, version: { revision, logSeq: 0 }, build }) as GroundState;

describe('what stands on the schedules', () => {
  it('is nothing before the first forecast, then the last one, whatever was edited since', async () => {
    const schedules = createKeptSchedules(openStore());
    expect(schedules.of(stateOf(1, frames(12)))).toBeUndefined();
    schedules.put(stateOf(1, frames(12)), forecastOf(frames(12)));
    schedules.put(stateOf(1, frames(12)), forecastOf(frames(12), NOON + 60));
    const later = keptScheduleOf(forecastOf(frames(12), NOON + 60));
    expect(readSchedule(schedules.of(stateOf(1, frames(12)))!)).toEqual(later);
    expect(readSchedule(schedules.of(stateOf(2, frames(20)))!)).toEqual(later);
  });

  it('is what stood before a detour when the detour has been taken back', async () => {
    const schedules = createKeptSchedules(openStore());
    const before = forecastOf(frames(12));
    const detour = forecastOf(frames(112), NOON + 5);
    schedules.put(stateOf(1, frames(12)), before);
    schedules.put(stateOf(2, frames(112)), detour);
    expect(readSchedule(schedules.of(stateOf(3, frames(12)))!)).toEqual(keptScheduleOf(before));
    expect(readSchedule(schedules.of(stateOf(3, frames(14)))!)).toEqual(keptScheduleOf(detour));
    expect(readSchedule(schedules.of(stateOf(2, frames(112)))!)).toEqual(keptScheduleOf(detour));
  });
});
