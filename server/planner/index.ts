/**
 * The door of the planner: joins store and engine. It takes a build and its log from the store, keeps the last forecast and
 * what it was computed from, and lets nothing into the ground state that is wrong.
 */
import { wallText } from '../engine/index.ts';
import type { Store } from '../store/index.ts';
import { type Counting, createCounting } from './counting.ts';
import { createEdits } from './edits.ts';
import { createFirstPlans } from './first-plans.ts';
import { createForecastKeeper } from './forecasts.ts';
import { createGroundCache } from './ground.ts';
import { type AttributeRoom, createLedger } from './ledger.ts';
import { createPast } from './past.ts';
import type { ComputeForecast, SearchForecast } from './tasks.ts';
import type { Planner } from './types.ts';

export type { Turn } from '../store/index.ts';
export { createForecastPool, type ForecastPool } from './background.ts';
export { MOST_FILE_MEGABYTES, parseBuildText } from './build-text.ts';
export { causeOf } from './causes.ts';
export { computeQuick, computeTask } from './compute.ts';
export type { OpenDoubt } from './counting.ts';
export { MAKER } from './log-check.ts';
export type { ComputeForecast, SearchForecast, SearchTask } from './tasks.ts';
export * from './types.ts';

export interface PlannerParts {
  readonly store: Store;
  /** Minutes since the epoch. */
  readonly now: () => number;
  /** The same as an ISO 8601 instant with seconds, for what is kept of an edit or an entry; left out: made from `now`. */
  readonly stamp?: () => string;
  readonly computeForecast: ComputeForecast;
  /** The search for a better order of work, away from the requests; left out: the quick forecast is the answer. */
  readonly search?: SearchForecast;
  /** Where the room went, worked out away from the requests; left out: the history has causes, but no parts. */
  readonly attribute?: AttributeRoom;
  /** Told of what went wrong in the background, where nobody waits for an answer. */
  readonly report?: (error: unknown) => void;
}

export interface RunningPlanner extends Planner, Counting {
  /** Time has gone by: forecasts that were asked for are computed anew where the quarter of an hour has passed. */
  tick(): void;
  /** After a start: takes up what was left of the ledgers and first plans of all builds. */
  resume(): void;
  /** When nothing is being computed in the background any more. */
  settled(): Promise<void>;
}

/** The planner over an open store. */
export function createPlanner(parts: PlannerParts): RunningPlanner {
  const { store, now, computeForecast } = parts;
  const stamp = parts.stamp ?? (() => `${wallText(now(), 'UTC')}:00Z`);
  const report = parts.report ?? (() => undefined);
  const listeners = new Set<(id: string, what: 'ground' | 'forecast') => void>();
  const tell = (id: string, what: 'ground' | 'forecast'): void => {
    for (const listener of listeners) {
      try {
        listener(id, what);
      } catch (error) {
        report(error);
      }
    }
  };
  const changed = (id: string): void => tell(id, 'ground');

  const ground = createGroundCache(store);
  const firstPlans = createFirstPlans(store, parts.search ?? null);
  const keeper = createForecastKeeper({
    store,
    ground,
    now,
    computeForecast,
    search: parts.search ?? null,
    report,
    changed: (id) => tell(id, 'forecast'),
    firstPlans,
    kept: (id) => ledger.workOff(id),
  });
  const past = createPast({
    store,
    ground,
    search: parts.search ?? null,
    quiet: keeper.settled,
    changed: (id) => tell(id, 'forecast'),
  });
  const ledger = createLedger({
    store,
    ground,
    attribute: parts.attribute ?? null,
    prepare: async (id) => {
      await keeper.settled();
      const state = ground.get(id);
      if (!state) return;
      await firstPlans.settle(state);
      await past.rebuild(id);
    },
    quiet: keeper.settled,
    report,
    changed: (id) => tell(id, 'forecast'),
  });
  const counting = createCounting({ store, ground, keeper, now, stamp, changed, report });
  const edits = createEdits({
    store,
    ground,
    keeper,
    now,
    stamp,
    compute: (build, log, state) =>
      state === undefined
        ? computeForecast(build, log, now())
        : computeForecast(build, log, now(), keeper.former(state), firstPlans.of(state)),
    changed,
  });

  return {
    ...counting,
    ...edits,
    builds: () => store.builds.list(),
    build: (id) => {
      const state = ground.get(id);
      return state ? { build: state.build, revision: state.version.revision } : null;
    },
    snapshot: keeper.snapshot,
    latest: keeper.latest,
    log: (id) => [...(ground.get(id)?.log ?? [])],
    onChange: (listener) => {
      listeners.add(listener);
      return () => void listeners.delete(listener);
    },
    history: (id, since) => {
      const state = ground.get(id);
      if (!state) return [];
      return since === undefined ? store.forecasts.history(state.key) : store.forecasts.turnsFrom(state.key, since);
    },
    tick: () => {
      for (const id of keeper.asked()) keeper.latest(id);
    },
    rebuilding: past.isRebuilding,
    resume: () => {
      for (const { id } of store.builds.list()) ledger.workOff(id);
    },
    settled: async () => {
      await keeper.settled();
      await ledger.settled();
    },
  };
}
