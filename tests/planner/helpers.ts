import type { Build, NewLogEntry, Problem } from '../../server/model/index.ts';
import { createPlanner, type PlannerParts, type RunningPlanner } from '../../server/planner/index.ts';
import type { Store } from '../../server/store/index.ts';
import { lantern, openStore, tap } from '../store/helpers.ts';
import { NOON, simpleForecast } from './simple-forecast.ts';

export * from './simple-forecast.ts';

export interface Bench {
  readonly planner: RunningPlanner;
  readonly store: Store;
  /** Minutes since the epoch; set it to let time pass. */
  clock: { now: number };
  readonly heard: string[];
  readonly errors: unknown[];
  /** How often a forecast was computed. */
  readonly computed: { count: number };
}

/** A planner over a database in memory with the lantern in it. */
export function bench(changes: Partial<PlannerParts> = {}, build: Build = lantern()): Bench {
  const store = changes.store ?? openStore();
  const clock = { now: NOON };
  const computed = { count: 0 };
  const errors: unknown[] = [];
  const planner = createPlanner({
    store,
    now: () => clock.now,
    computeForecast: (b, log, now) => {
      computed.count += 1;
      return simpleForecast(b, log, now);
    },
    report: (error) => errors.push(error),
    ...changes,
  });
  if (!planner.build(build.id)) {
    const made = planner.create(build, [], 'maker');
    if (!made.ok) throw new Error(made.problems.map((p) => p.message).join(' '));
  }
  const heard: string[] = [];
  planner.onChange((id, what) => heard.push(`${id} ${what}`));
  computed.count = 0;
  return { planner, store, clock, heard, errors, computed };
}

let next = 0;
/** A tap at noon with an id of its own. */
export function noonTap(changes: Partial<NewLogEntry> = {}): NewLogEntry {
  next += 1;
  return tap(`tap-${String(next).padStart(6, '0')}`, { at: '2026-11-30T12:00:00Z', ...changes });
}

/** The words of all problems of a result or receipt, joined. */
export function words(result: { readonly problems?: readonly Problem[]; readonly ok?: boolean }): string {
  return (result.problems ?? []).map((p) => `${p.field}: ${p.message}`).join('\n');
}
