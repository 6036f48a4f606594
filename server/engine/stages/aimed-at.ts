/** A plan as it is, aimed at another finish. */
import { compile, levelBackwards } from '../07-levelling/index.ts';
import type { Instant } from '../types.ts';
import { datesOfLots } from './dates.ts';
import type { Planned } from './planned.ts';
import { deadlinesKept, latestOf } from './schedules.ts';

/**
 * The same schedule with the ready-by and the event at these instants, so that last moments are those before they cost
 * that finish something. O(lots) for the dates, and a few backward schedules.
 */
export function aimedAt(planned: Planned, readyBy: Instant, event: Instant): Planned {
  const { schedule, proof, asked, network } = planned;
  const lots = planned.work.lots.map((lot) => ({
    ...lot,
    deadline: lot.onSite || lot.spare === true ? event : readyBy,
  }));
  const work = { ...planned.work, lots, readyBy, event };
  const surroundings = { ...planned.surroundings, readyBy, event };
  const dates = datesOfLots(work, network, surroundings);
  if (schedule === null || proof === null) return { ...planned, work, surroundings, dates };
  const options = asked.levelling ?? { seed: 1 };
  const latest = latestOf(work, (other) =>
    levelBackwards(other, options, compile(other), { schedule, bound: proof.bound }),
  );
  return { ...planned, work, surroundings, dates, ...latest, ...deadlinesKept(lots, schedule) };
}
