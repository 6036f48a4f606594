/** A schedule as the plan that a later one is compared with. */
import type { PreviousSchedule } from '../../server/engine/07-levelling/index.ts';
import type { Instant, Schedule, Work } from '../../server/engine/types.ts';

/** When the lots of the schedule and their phases start, and whose hands they were given, by the name of the lot. */
export function previousScheduleOf(work: Work, schedule: Schedule): PreviousSchedule {
  const people = work.lots.map((): (readonly number[])[] => []);
  const starts = work.lots.map((): Instant[] => []);
  for (const placement of schedule.placements) {
    people[placement.lot]!.push(placement.people);
    starts[placement.lot]!.push(placement.start);
  }
  return new Map(
    work.lots.map((lot, l) => [lot.id, { start: schedule.starts[l]!, people: people[l]!, starts: starts[l]! }]),
  );
}
