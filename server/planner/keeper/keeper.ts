/**
 * Keeps the forecast of each build true. Whatever changes a build asks for a new one here: the loop sees to it, what
 * comes of it goes on the shelf, and whoever shows takes it from there.
 */
import type { Forecast } from '../../model/index.ts';
import { hasOwnChance, sameVersion } from '../background/fresh.ts';
import type { Jobs } from '../background/jobs.ts';
import type { Background } from '../background/tasks.ts';
import type { FirstPlans } from '../first-plans.ts';
import type { GroundCache, GroundState } from '../ground.ts';
import type { JobKind, Snapshot } from '../types.ts';
import { type Computing, createComputing } from './computing.ts';
import { createDurations, type Durations } from './durations.ts';
import { createLooks, type Looks } from './looks.ts';
import { createLoop, type Pauses } from './loop.ts';
import { createShelf, type Shelf, type ShelfParts, type Shelved } from './shelf.ts';
import { createWaiting, type Waiting } from './waiting.ts';

interface KeeperParts extends Omit<ShelfParts, 'firstPlans'> {
  readonly ground: GroundCache;
  readonly now: () => number;
  readonly plan: Background['plan'];
  readonly jobs: Jobs;
  readonly firstPlans: Pick<FirstPlans, 'of' | 'take'>;
  readonly changed: (id: string) => void;
  readonly pauses?: Pauses;
  /** Milliseconds since whenever; left out: of this process. */
  readonly clock?: () => number;
}

export interface ForecastKeeper {
  /**
   * Waits for one of the present state, `longest` milliseconds at most, where none is at hand or it may come within
   * them by how long the last one took; gives what is at hand at once where it will not.
   */
  snapshot(id: string, longest?: number): Promise<Snapshot | null>;
  /** What is at hand, and a new one is seen to where that is old; `state`: what was read of the build just now. */
  latest(id: string, state?: GroundState): Snapshot | null;
  /** The same, and nothing else: no forecast is begun for it, and nobody has looked. */
  peek(id: string): Snapshot | null;
  failedAt(id: string): number | null;
  /** Takes a forecast of the build's present state that was computed on the way, such as to check an edit. */
  take(id: string, state: GroundState, forecast: Forecast): void;
  /** What is at hand for exactly this state, if anything, however old. */
  at(id: string, state: GroundState): Forecast | null;
  /** What is at hand for exactly this state with futures of its own, the number of them that the sheets show. */
  known(state: GroundState): Forecast | null;
  /** What a forecast of the state is made with: the present plan, and what the counts are compared with. */
  readonly beside: Computing['beside'];
  /**
   * Sees to a new forecast if the one at hand is not of the present state; does not wait for it. `state`: what was read
   * of the build just now, or before it was counted on.
   */
  refresh(id: string, state?: GroundState | null): void;
  /** Builds that a page is open of, or was a moment ago. */
  look(id: string): () => void;
  /** Time has gone by: what is looked at is computed again, what was not looked at for long is let go. */
  tick(): void;
  drop(id: string): void;
  /** The build was closed: what is worked out for it in the background, and nobody waits for, is stopped. */
  rest(id: string): void;
  /** When no forecast is wanted any more. */
  settled(): Promise<void>;
  /** Sees to no forecast any more. */
  close(): void;
}

/** Kinds of jobs for which somebody waits. */
const AWAITED: ReadonlySet<JobKind> = new Set(['answer', 'see-first']);
/** A page waits this long for its forecast before it shows the one before; no moment where it takes longer. */
const LONGEST_WAIT = 2_000;
/**
 * Minutes after which a build that nobody asks about is not looked at any more, and after which its forecast is let go.
 */
const LOOKED_MINUTES = 15;
const KEPT_MINUTES = 60;

/** Forecasts of all builds of the store, kept true while somebody looks at them. */
export function createForecastKeeper(parts: KeeperParts): ForecastKeeper {
  const { ground, now, jobs, report } = parts;
  const shelf = createShelf(parts);
  const looks = createLooks(now);
  const waiting = createWaiting();
  const tell = (id: string): void => {
    parts.changed(id);
    waiting.wake(id);
  };
  const durations = createDurations(parts.clock ?? (() => performance.now()));
  const computing = createComputing({ ...parts, shelf, durations, shown: tell });
  const { isTrue, isOfNow, needs, ask, beside } = computing;
  const failed = (id: string): void => {
    if (shelf.fail(id, now())) tell(id);
    else waiting.wake(id);
  };
  const loop = createLoop({ pauses: parts.pauses, needs, isOfNow, ask, failed, report });

  /** Nothing is worked out any more for a closed build whose last forecast is at hand. */
  const refresh: ForecastKeeper['refresh'] = (id, state = ground.get(id)) => {
    if ((state?.closed ?? null) === null || needs(id, 'quick')) loop.begin(id);
  };

  const { latest, ...shown } = createShowing({ ground, shelf, looks, waiting, durations, isTrue, refresh });

  const tick = (id: string): void => {
    const minutes = looks.minutesSince(id);
    const state = ground.get(id);
    const forecast = state && shelf.at(id, state)?.forecast;
    if (minutes <= LOOKED_MINUTES && !(forecast && isFinished(forecast) && isOfNow(id))) latest(id, state);
    else if (minutes > KEPT_MINUTES) {
      looks.forget(id);
      shelf.letGo(id, state?.key ?? null);
    }
  };

  return {
    ...shown,
    latest: (id, state) => {
      looks.at(id);
      return latest(id, state ?? ground.get(id));
    },
    take: (id, state, forecast) => {
      shelf.put(id, state, { forecast, at: now(), depth: 'quick' });
      tell(id);
      refresh(id);
    },
    beside,
    refresh,
    look: looks.open,
    tick: () => {
      for (const id of looks.ids()) tick(id);
    },
    drop: (id) => {
      looks.forget(id);
      durations.forget(id);
      shelf.letGo(id, null);
      jobs.drop(id);
    },
    rest: (id) => {
      for (const { job, kind } of jobs.list(id)) if (!AWAITED.has(kind)) jobs.stop(job);
    },
    settled: async () => {
      await loop.settled();
      await shelf.settled();
    },
    close: loop.close,
  };
}

interface ShowingParts {
  readonly ground: GroundCache;
  readonly shelf: Shelf;
  readonly looks: Looks;
  readonly waiting: Waiting;
  readonly durations: Pick<Durations, 'expected'>;
  readonly isTrue: Computing['isTrue'];
  readonly refresh: ForecastKeeper['refresh'];
}

interface Showing extends Pick<ForecastKeeper, 'snapshot' | 'peek' | 'failedAt' | 'at' | 'known'> {
  latest(id: string, state: GroundState | null): Snapshot | null;
}

/** What is on the shelf, as it is shown: with the state it is of, and whether that is still the present one. */
function createShowing(parts: ShowingParts): Showing {
  const { ground, shelf, looks, waiting, durations, isTrue, refresh } = parts;
  const show = (id: string, state: GroundState, one: Shelved): Snapshot => ({
    forecast: one.forecast,
    version: { revision: one.revision, logSeq: one.logSeq },
    computedAt: one.computedAt,
    stale: !isTrue(one, state),
    failedAt: shelf.failedAt(id),
    settled: one.depth === 'deep',
  });

  const latest = (id: string, state: GroundState | null): Snapshot | null => {
    if (!state) return null;
    const one = shelf.at(id, state);
    if (!isTrue(one, state)) refresh(id, state);
    return one && show(id, state, one);
  };

  const peek = (id: string): Snapshot | null => {
    const state = ground.get(id);
    const one = state && shelf.at(id, state);
    return one ? show(id, state, one) : null;
  };

  const at = (id: string, state: GroundState): Forecast | null => {
    const one = shelf.at(id, state);
    return one && sameVersion(one, state.version) ? one.forecast : null;
  };

  /** Until a forecast of the present state is there, or has failed, or the time is over. */
  const whenTrue = (id: string, longest: number): Promise<void> => {
    const before = shelf.failedAt(id);
    return waiting.until(id, longest, () => {
      const state = ground.get(id);
      return !state || shelf.failedAt(id) !== before || isTrue(shelf.at(id, state), state);
    });
  };

  /** Where only time has gone by, the search alone brings a new one. */
  const comesWithin = (id: string, longest: number): boolean => {
    const state = ground.get(id)!;
    return durations.expected(id, at(id, state) === null ? 'quick' : 'deep') <= longest;
  };

  return {
    latest,
    peek,
    failedAt: shelf.failedAt,
    snapshot: async (id, longest = LONGEST_WAIT) => {
      looks.at(id);
      await ground.fetch(id);
      const before = ground.get(id);
      if (before) await shelf.fetch(id, before);
      const one = latest(id, ground.get(id));
      if (one?.stale === false || !ground.get(id)) return one;
      if (one !== null && !comesWithin(id, longest)) return one;
      await whenTrue(id, longest);
      return peek(id);
    },
    at,
    known: (state) => {
      const forecast = at(state.build.id, state);
      return forecast && hasOwnChance(forecast) ? forecast : null;
    },
  };
}

/** Nothing is left to be done: time changes nothing about it. */
function isFinished({ steps }: Forecast): boolean {
  return steps.length > 0 && steps.every(({ left }) => left === 0);
}
