/** Two hundred hooks to file by hand, and logs of them. */
import { readWall } from '../../server/engine/calendar/clock.ts';
import { planBuild } from '../../server/engine/plan.ts';
import type { Build, Estimate, ForecastPace, LogEntry, Origin, Step } from '../../server/model/index.ts';

export const NOW = at('2026-12-10T18:00'); // a Thursday

/** An instant on the clock of UTC. */
export function at(text: string): number {
  const read = readWall(text, 'UTC');
  if (!read.ok) throw new Error(read.problem.message);
  return read.value;
}

/** Two hundred hooks to file by hand, by Ria and Tom, with a lunch. */
export function filing(perUnit: Estimate, more: Partial<Step> = {}, origin?: Origin): Build {
  const hours = 'daily 09:00-12:00 13:00-22:00';
  return {
    id: 'hooks',
    name: 'Hooks',
    zone: 'UTC',
    start: '2026-11-01T09:00',
    event: '2026-12-24T19:00',
    people: [
      { id: 'ria', name: 'Ria', hours },
      { id: 'tom', name: 'Tom', hours },
    ],
    steps: [
      {
        id: 'file',
        name: 'file',
        count: 200,
        lotSize: 20,
        phases: [{ kind: 'hands', perUnit }],
        ...(origin ? { origin } : {}),
        ...more,
      },
      { id: 'oil', name: 'oil', count: 200, lotSize: 20, phases: [{ kind: 'hands', minutes: 10 }] },
    ],
  };
}

/** What was tapped: `09T18:00` is in December. */
export type Told = [
  when: string,
  kind: LogEntry['kind'],
  n?: number | undefined,
  person?: string | undefined,
  step?: string,
];

/** Entries in their order, of the step `file` unless said. */
export function log(...told: Told[]): LogEntry[] {
  return told.map(([when, kind, n, person, step], i) => ({
    id: `entry-${String(i).padStart(3, '0')}`,
    kind,
    step: step ?? 'file',
    at: `2026-12-${when}:00Z`,
    seq: i + 1,
    ...(n === undefined ? {} : { n }),
    ...(person === undefined ? {} : { person }),
  }));
}

/** No schedule is searched for: what the log says of paces and runs comes before any. */
export const FIRST_SCHEDULE = { levelling: { seed: 1, schedules: 1 } } as const;

/** The pace of `file` at `NOW`. */
export function paceOf(build: Build, entries: readonly LogEntry[]): ForecastPace {
  const pace = planBuild(build, entries, NOW, FIRST_SCHEDULE).steps.find(({ id }) => id === 'file')?.pace;
  if (!pace) throw new Error('no pace');
  return pace;
}
