/**
 * The shelf of forecasts: what is held in memory, what is on disk, and what was shown to fail. Whoever computes puts
 * the forecast here; whoever shows takes it from here.
 */

import { withSince } from '../../engine/index.ts';
import type { Forecast, Threat } from '../../model/index.ts';
import { joinedInTurns } from '../../store/forecast-pieces.ts';
import type { Depth, KeptForecast, Store } from '../../store/index.ts';
import { othersTurn } from '../../turns/turns.ts';
import type { WrittenSchedule } from '../background/former.ts';
import { withLastRisk } from '../background/fresh.ts';
import type { FirstPlans } from '../first-plans.ts';
import type { GroundState } from '../ground.ts';
import { createKeptSchedules, type KeptSchedules } from '../kept-schedules.ts';
import { formerText } from '../ledger.ts';
import { turnOf } from '../turn.ts';

export type Shelved = KeptForecast & { readonly key: number };

export interface Shelf {
  /** The last forecast of the build, of whatever state; null where there is none, in memory or on disk. */
  at(id: string, state: GroundState): Shelved | null;
  /** Takes the last forecast from the disk, once for all who ask, in turns with others' work, for `at` to find. */
  fetch(id: string, state: GroundState): Promise<void>;
  /**
   * Puts a forecast of a state in the place of the one before; one that is settled (`deep`) goes on disk as well, in
   * later turns.
   */
  put(id: string, state: GroundState, made: Made): void;
  /** The schedule last given out of the build, see `KeptSchedules`. */
  former(state: GroundState): WrittenSchedule | undefined;
  /** When that is written, in turns with others' work. */
  written(state: GroundState): Promise<unknown> | undefined;
  /** The last try failed; true: what is shown has not been said to have failed before. */
  fail(id: string, at: number): boolean;
  failedAt(id: string): number | null;
  /** A forecast as good as any was made: nothing has failed any more. */
  succeed(id: string): void;
  /** Lets go of what is on disk as well, or of everything where the build is gone. */
  letGo(id: string, key: number | null): void;
  /** When all that is to go on disk is there. */
  settled(): Promise<void>;
}

/** A forecast with when and how it was made. */
interface Made {
  readonly forecast: Forecast;
  /** Minutes since the epoch. */
  readonly at: number;
  readonly depth: Depth;
}

export interface ShelfParts {
  readonly store: Store;
  readonly firstPlans: Pick<FirstPlans, 'take'>;
  readonly report: (error: unknown) => void;
  /** A settled forecast was kept, perhaps with a row of history. */
  readonly kept: (id: string) => void;
}

interface Failure {
  readonly at: number;
  /** What was to be replaced. */
  readonly shown: Shelved | null;
}

/** An empty shelf over the forecasts of a store. */
export function createShelf(parts: ShelfParts): Shelf {
  const { store } = parts;
  const shelved = new Map<string, Shelved>();
  const schedules = createKeptSchedules(store);
  const keeping = createKeeping(parts, schedules);
  const failures = createFailures();
  const fetching = new Map<number, Promise<void>>();

  const at = (id: string, state: GroundState): Shelved | null => {
    const one = shelved.get(id);
    if (one?.key === state.key) return one;
    // What another form of forecasts left out would be shown as if it were not so; it is not even read.
    if (!store.forecasts.head(state.key)?.current) return null;
    const last = store.forecasts.last(state.key);
    if (!last?.current) return null;
    const { current, ...kept } = last;
    const found = { ...kept, key: state.key };
    shelved.set(id, found);
    return found;
  };

  const fetch = async (id: string, state: GroundState): Promise<void> => {
    if (shelved.get(id)?.key === state.key) return;
    const head = store.forecasts.head(state.key);
    if (head === null || (!head.current && schedules.knows(state.key))) return;
    const pieces = store.forecasts.pieces(state.key);
    if (pieces.length === 0) return;
    const { current, ...rest } = head;
    const one = { ...rest, forecast: await joinedInTurns(pieces), key: state.key };
    schedules.know(state.key, one.forecast);
    // What was made by another program is of use for its schedule alone.
    if (current && shelved.get(id)?.key !== state.key) shelved.set(id, one);
  };

  return {
    at,
    fetch: (id, state) => {
      const coming = fetching.get(state.key) ?? fetch(id, state).finally(() => fetching.delete(state.key));
      fetching.set(state.key, coming);
      return coming;
    },
    put: (id, state, { forecast, at: computedAt, depth }) => {
      const { key } = state;
      const before = at(id, state);
      const settled = depth === 'deep';
      const whole = withLastRisk(settled ? keeping.withFirstPlan(state, forecast) : forecast, before);
      const one = { key, forecast: keeping.sinceWhen(key, whole, before), ...state.version, computedAt, depth };
      shelved.set(id, one);
      if (settled) keeping.keep(state, one);
    },
    former: schedules.of,
    written: ({ key }) => schedules.written(key),
    fail: (id, when) => failures.add(id, { at: when, shown: shelved.get(id) ?? null }),
    failedAt: failures.at,
    succeed: failures.forget,
    letGo: (id, key) => {
      shelved.delete(id);
      if (key === null) failures.forget(id);
      else {
        keeping.letGo(key);
        schedules.letGo(key);
      }
    },
    settled: keeping.settled,
  };
}

/** What goes onto the disk with a settled forecast: the first plan, the age of each threat, a row of history. */
function createKeeping({ store, firstPlans, report, kept: isKept }: ShelfParts, schedules: KeptSchedules) {
  /** By build key: the threats of the last settled forecast, with since when each has been there. */
  const threats = new Map<number, readonly Threat[]>();
  /** What is being put on disk, one after the other: a row of history is of what the forecast before has left there. */
  let under: Promise<void> = Promise.resolve();

  const putOnDisk = async (state: GroundState, { key, ...kept }: Shelved, plan?: WrittenSchedule): Promise<void> => {
    await othersTurn();
    const turn = turnOf(store, state, kept, store.forecasts.head(key));
    const last = turn && store.forecasts.lastTurn(key);
    const former = plan && last ? formerText(plan, [turn.roomMinutes, last.roomMinutes]) : null;
    await othersTurn();
    // The build may be gone meanwhile.
    if (store.builds.ground(state.build.id)?.key !== key) return;
    store.forecasts.keep(key, kept, turn, former);
    isKept(state.build.id);
  };

  return {
    /** What was there before the first forecast after a start is what the disk has. */
    sinceWhen: (key: number, forecast: Forecast, kept: Shelved | null): Forecast => {
      const before = threats.get(key) ?? kept?.forecast.threats ?? [];
      threats.set(key, before);
      return { ...forecast, threats: withSince(forecast.threats ?? [], before) };
    },
    withFirstPlan: (state: GroundState, forecast: Forecast): Forecast => {
      try {
        return firstPlans.take(state, forecast);
      } catch (error) {
        report(error);
        return forecast;
      }
    },
    /**
     * Puts a settled forecast on disk, with a row of history if it changed the answer. It can be computed again, so a
     * full disk stops nothing.
     */
    keep: (state: GroundState, one: Shelved): void => {
      const { key, forecast } = one;
      threats.set(key, forecast.threats ?? []);
      const plan = schedules.last(key);
      schedules.put(state, forecast);
      under = under.then(() => putOnDisk(state, one, plan)).catch(report);
    },
    settled: () => under,
    letGo: (key: number): void => void threats.delete(key),
  };
}

/** The last failure of each build, with what it was to replace. */
function createFailures() {
  const failures = new Map<string, Failure>();
  return {
    /** True: what is shown has not been said to have failed before. */
    add: (id: string, failure: Failure): boolean => {
      const before = failures.get(id);
      failures.set(id, failure);
      return before === undefined || before.shown !== failure.shown;
    },
    at: (id: string): number | null => failures.get(id)?.at ?? null,
    forget: (id: string): void => void failures.delete(id),
  };
}
