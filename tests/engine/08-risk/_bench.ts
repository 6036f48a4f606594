/** One pair of hands from nine to five, and a build around the steps a test gives: for tests of the futures. */

import { riskOf } from '../../../server/engine/08-risk/index.ts';
import { readWall } from '../../../server/engine/calendar/clock.ts';
import { workThrough } from '../../../server/engine/stages/index.ts';
import type { Build, ForecastRisk, LogEntry, Step } from '../../../server/model/index.ts';

/** Minutes since the epoch of a wall time in UTC. */
export function at(text: string): number {
  const read = readWall(text, 'UTC');
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
}

/** A Tuesday. */
export const NOW: number = at('2026-12-01T09:00');

/** A build of these steps. */
export function bench(steps: Step[], more: Partial<Build> = {}): Build {
  return {
    id: 'bench',
    name: 'Bench',
    zone: 'UTC',
    event: '2026-12-11T17:00',
    people: [{ id: 'ria', name: 'Ria', hours: 'daily 09:00-17:00' }],
    steps,
    ...more,
  };
}

/** A step of so many minutes of hands. */
export function hands(id: string, minutes: number, more: Partial<Step> = {}): Step {
  return { id, name: id, phases: [{ kind: 'hands', minutes }], ...more };
}

/** The whole risk, without stopping early. */
export function risk(
  build: Build,
  entries: readonly LogEntry[] = [],
  futures = 600,
  seed = 1,
  now: number = NOW,
): ForecastRisk {
  return riskOf(workThrough({ build, log: entries, now }, 'schedules'), { seed, futures, exactness: 0 })!;
}
