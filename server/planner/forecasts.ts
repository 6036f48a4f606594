/**
 * Keeps the forecast of each build true. Whatever changes a build asks for a new one here: an answer soon, then the
 * search for a better order of work, both in the queue of the background. What comes of them goes on the shelf.
 */
import type { Forecast } from '../model/index.ts';
import type { Depth } from '../store/index.ts';
import type { Jobs } from './background/jobs.ts';
import type { Background, Hand, PlanTask } from './background/tasks.ts';
import { stillAt } from './closed.ts';
import type { FirstPlans } from './first-plans.ts';
import { hasOwnChance, isFresh, isNewer, sameVersion } from './fresh.ts';
import type { GroundCache, GroundState } from './ground.ts';
import { createShelf, type Held, type ShelfParts } from './shelf.ts';
import type { JobKind, Snapshot } from './types.ts';

interface KeeperParts extends Omit<ShelfParts, 'firstPlans'> {
  readonly ground: GroundCache;
  readonly now: () => number;
  readonly plan: Background['plan'];
  readonly jobs: Jobs;
  readonly firstPlans: Pick<FirstPlans, 'of' | 'take'>;
  readonly changed: (id: string) => void;
  readonly pauses?: Pauses;
}

/**
 * Milliseconds: taps that follow each other more closely than `quiet` share one forecast; a search begins `calm` after
 * its answer.
 */
export interface Pauses {
  readonly quiet: number;
  readonly calm: number;
}

export interface ForecastKeeper {
  snapshot(id: string, longest?: number): Promise<Snapshot | null>;
  latest(id: string): Snapshot | null;
  /** The same, and nothing else: no forecast is begun for it, and nobody has looked. */
  peek(id: string): Snapshot | null;
  failedAt(id: string): number | null;
  /** Takes a forecast of the build's present state that was computed on the way, such as to check an edit. */
  take(id: string, state: GroundState, forecast: Forecast): void;
  /** What is at hand for exactly this state, if anything, however old. */
  at(id: string, state: GroundState): Forecast | null;
  /** What a forecast of the state is made with: the plan that stands, and what the counts are held against. */
  beside(state: GroundState): Pick<PlanTask, 'former' | 'first'>;
  /** Sees to a new forecast if the one at hand is not of the present state; does not wait for it. */
  refresh(id: string): void;
  /** Builds that a page is open of, or was a moment ago. */
  look(id: string): () => void;
  /** Time has gone by: what is looked at is computed anew, what was not looked at for long is let go. */
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
const PAUSES: Pauses = { quiet: 40, calm: 250 };
/** Taps in a row are waited for so many times at most. */
const MOST_PAUSES = 50;
/** A page waits so long for its forecast before it shows the one before. */
const LONGEST_WAIT = 2_000;
/** A build that nobody asked about for so many minutes is not looked at, and its forecast is let go after so many. */
const LOOKED_MINUTES = 15;
const KEPT_MINUTES = 60;

/** Forecasts of all builds of the store, kept true while somebody looks at them. */
export function createForecastKeeper(parts: KeeperParts): ForecastKeeper {
  const { ground, now, plan, jobs, firstPlans } = parts;
  const pauses = parts.pauses ?? PAUSES;
  const shelf = createShelf(parts);
  /** Builds whose next answer waits for a gap between taps; true: another came meanwhile. */
  const gathering = new Map<string, boolean>();
  const following = new Set<Promise<void>>();
  const waiting = new Map<string, Set<() => void>>();
  const looks = createLooks(now);
  let isClosed = false;

  const tell = (id: string): void => {
    parts.changed(id);
    for (const wake of waiting.get(id) ?? []) wake();
  };

  /** What is at hand of a closed build stays true: its time stands still. */
  const isTrue = (one: Held | null, state: GroundState): boolean =>
    state.closed === null ? isFresh(one, state.version, now()) : one !== null && sameVersion(one, state.version);

  const show = (id: string, state: GroundState, one: Held): Snapshot => ({
    forecast: one.forecast,
    version: { revision: one.revision, logSeq: one.logSeq },
    computedAt: one.computedAt,
    stale: !isTrue(one, state),
    failedAt: shelf.failedAt(id),
    settled: one.depth === 'deep',
  });

  const beside = (state: GroundState): Pick<PlanTask, 'former' | 'first'> => {
    const [former, first] = [shelf.former(state), firstPlans.of(state)];
    return { ...(former ? { former } : {}), ...(first ? { first } : {}) };
  };

  /**
   * Where only time has gone by, the order of work found before stands until the search is done; an old chance does
   * not.
   */
  const needs = (id: string, depth: Depth): boolean => {
    const state = ground.get(id);
    if (!state) return false;
    const one = shelf.at(id, state);
    if (one === null) return true;
    if (state.closed !== null) return depth === 'quick' && !sameVersion(one, state.version);
    if (depth === 'quick') return !sameVersion(one, state.version) || !hasOwnChance(one.forecast);
    return one.depth !== 'deep' || !isFresh(one, state.version, now());
  };

  /** Whether what is shown is of the present state. */
  const isOfNow = (id: string): boolean => {
    const state = ground.get(id);
    const one = state && shelf.at(id, state);
    return one ? sameVersion(one, state.version) : false;
  };

  /** Computes the forecast of the state as it is when this begins; nothing older takes the place of what is shown. */
  const compute = async (id: string, depth: Depth, hand: Hand): Promise<void> => {
    const state = ground.get(id);
    if (!state) return;
    const at = state.closed === null ? now() : stillAt(state.closed);
    const put = (forecast: Forecast): void => {
      if (ground.get(id)?.key !== state.key) return;
      const there = shelf.at(id, state);
      if (there !== null && isNewer(there, state.version)) return;
      if (depth === 'deep') shelf.succeed(id);
      shelf.put(id, state, { forecast, at, depth });
      tell(id);
    };
    const { build, log } = state;
    const lots = shelf.at(id, state)?.forecast.lots.length;
    const task = { build, log, now: at, depth, ...beside(state), ...(lots === undefined ? {} : { lots }) };
    const one = shelf.at(id, state);
    // An edit was checked with the plan of this very state: it is shown already.
    const isShown = one !== null && sameVersion(one, state.version);
    put(await plan(task, hand, depth === 'deep' || isShown ? undefined : put));
  };

  const ask = async (id: string, depth: Depth): Promise<void> => {
    const state = ground.get(id);
    if (!state || !needs(id, depth)) return;
    await jobs.ask({
      kind: depth === 'quick' ? 'answer' : 'search',
      build: id,
      version: state.version,
      isWanted: () => needs(id, depth),
      run: (hand) => compute(id, depth, hand),
    });
  };

  /**
   * Waits until nothing has been asked for a moment, but not for ever; what was asked meanwhile is served by what
   * follows.
   */
  const quiet = async (id: string): Promise<void> => {
    for (let n = 0; n < MOST_PAUSES; n++) {
      gathering.set(id, false);
      await pause(pauses.quiet);
      if (!gathering.get(id)) break;
    }
    gathering.delete(id);
  };

  /**
   * Not in the turn of the request that asks: whoever tapped is answered first, and taps in a row are answered
   * together.
   */
  const follow = async (id: string): Promise<void> => {
    await quiet(id);
    if (isClosed) return;
    try {
      if (needs(id, 'quick')) {
        await ask(id, 'quick');
        await pause(pauses.calm);
      }
      // A newer tap sees to its own answer and search.
      if (!isClosed && !gathering.has(id) && isOfNow(id)) await ask(id, 'deep');
    } catch (error) {
      parts.report(error);
      if (shelf.fail(id, now())) tell(id);
      else for (const wake of waiting.get(id) ?? []) wake();
    }
  };

  /** A closed build whose last forecast is at hand: nothing is worked out for it any more. */
  const isAtRest = (id: string): boolean => (ground.get(id)?.closed ?? null) !== null && !needs(id, 'quick');

  const refresh = (id: string): void => {
    if (isClosed || isAtRest(id)) return;
    if (gathering.has(id)) {
      gathering.set(id, true);
      return;
    }
    gathering.set(id, false);
    const one = follow(id)
      .catch(parts.report)
      .finally(() => following.delete(one));
    following.add(one);
  };

  const latest = (id: string): Snapshot | null => {
    const state = ground.get(id);
    if (!state) return null;
    const one = shelf.at(id, state);
    if (!isTrue(one, state)) refresh(id);
    return one && show(id, state, one);
  };

  /** Until a forecast of the present state is there, or has failed, or the time is over. */
  const whenTrue = (id: string, longest: number): Promise<void> =>
    new Promise((resolve) => {
      const before = shelf.failedAt(id);
      const end = (): void => {
        clearTimeout(timer);
        waiting.get(id)?.delete(look);
        resolve();
      };
      const look = (): void => {
        const state = ground.get(id);
        if (!state || shelf.failedAt(id) !== before || isTrue(shelf.at(id, state), state)) end();
      };
      const timer = setTimeout(end, longest);
      waiting.set(id, (waiting.get(id) ?? new Set()).add(look));
    });

  /** Nothing is left to be done: time changes nothing about it. */
  const isFinished = (id: string): boolean => {
    const state = ground.get(id);
    const steps = state && shelf.at(id, state)?.forecast.steps;
    return steps ? steps.length > 0 && steps.every(({ left }) => left === 0) && isOfNow(id) : false;
  };

  return {
    snapshot: async (id, longest = LONGEST_WAIT) => {
      looks.at(id);
      await ground.fetch(id);
      const before = ground.get(id);
      if (before) await shelf.fetch(id, before);
      const one = latest(id);
      if (one?.stale === false || !ground.get(id)) return one;
      await whenTrue(id, longest);
      const state = ground.get(id);
      const there = state && shelf.at(id, state);
      return there ? show(id, state, there) : null;
    },
    latest: (id) => {
      looks.at(id);
      return latest(id);
    },
    peek: (id) => {
      const state = ground.get(id);
      const one = state && shelf.at(id, state);
      return one ? show(id, state, one) : null;
    },
    failedAt: shelf.failedAt,
    take: (id, state, forecast) => {
      shelf.put(id, state, { forecast, at: now(), depth: 'quick' });
      tell(id);
      refresh(id);
    },
    at: (id, state) => {
      const one = shelf.at(id, state);
      return one && sameVersion(one, state.version) ? one.forecast : null;
    },
    beside,
    refresh,
    look: looks.open,
    tick: () => {
      for (const id of looks.ids()) {
        const minutes = looks.minutesSince(id);
        if (minutes <= LOOKED_MINUTES && !isFinished(id)) latest(id);
        else if (minutes > KEPT_MINUTES) {
          looks.forget(id);
          shelf.letGo(id, ground.get(id)?.key ?? null);
        }
      }
    },
    drop: (id) => {
      looks.forget(id);
      shelf.letGo(id, null);
      jobs.drop(id);
    },
    rest: (id) => {
      for (const { job, kind } of jobs.list(id)) if (!AWAITED.has(kind)) jobs.stop(job);
    },
    settled: async () => {
      while (following.size > 0) await Promise.all(following);
    },
    close: () => {
      isClosed = true;
    },
  };
}

/** Who looks at which build: pages that are open, and when somebody last asked. */
function createLooks(now: () => number) {
  const open = new Map<string, number>();
  const last = new Map<string, number>();
  const at = (id: string): void => void last.set(id, now());
  return {
    at,
    open: (id: string): (() => void) => {
      let isOpen = true;
      at(id);
      open.set(id, (open.get(id) ?? 0) + 1);
      return () => {
        if (!isOpen) return;
        isOpen = false;
        at(id);
        open.set(id, open.get(id)! - 1);
      };
    },
    ids: (): string[] => [...last.keys()],
    /** 0 while a page is open. */
    minutesSince: (id: string): number => ((open.get(id) ?? 0) > 0 ? 0 : now() - (last.get(id) ?? 0)),
    forget: (id: string): void => void last.delete(id),
  };
}

function pause(milliseconds: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, milliseconds));
}
