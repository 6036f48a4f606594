/**
 * Keeps the last forecast of each build and says whether it is still true. A first answer is computed at once where
 * somebody waits for it; the search for a better order of work runs elsewhere and takes its place when it is done.
 */
import type { FormerPlan } from '../engine/index.ts';
import { withSince } from '../engine/index.ts';
import type { Forecast, Threat } from '../model/index.ts';
import type { Depth, KeptForecast, Store } from '../store/index.ts';
import type { FirstPlans } from './first-plans.ts';
import { hasOldRisk, isFresh, isNewer, sameVersion, withLastRisk } from './fresh.ts';
import type { GroundCache, GroundState } from './ground.ts';
import { formerText } from './ledger.ts';
import { createSheets } from './sheets.ts';
import type { ComputeForecast, SearchForecast } from './tasks.ts';
import { turnOf } from './turn.ts';
import type { Snapshot } from './types.ts';

export interface KeeperParts {
  readonly store: Store;
  readonly ground: GroundCache;
  readonly now: () => number;
  readonly computeForecast: ComputeForecast;
  readonly firstPlans: Pick<FirstPlans, 'of' | 'take'>;
  readonly search: SearchForecast | null;
  readonly report: (error: unknown) => void;
  readonly changed: (id: string) => void;
  /** A settled forecast was kept, perhaps with a row of history. */
  readonly kept: (id: string) => void;
}

export interface ForecastKeeper {
  snapshot(id: string): Snapshot | null;
  latest(id: string): Snapshot | null;
  /** Takes a forecast of the build's present state that was computed on the way, such as to check an edit. */
  take(id: string, state: GroundState, forecast: Forecast): void;
  /** What is at hand for exactly this state, if anything, however old. */
  at(id: string, state: GroundState): Forecast | null;
  /** What stands on the sheets of the build, see `Sheets`. */
  former(state: GroundState): FormerPlan | undefined;
  /** Starts a new forecast if the one at hand is not of the present state; does not wait for it. */
  refresh(id: string): void;
  /** Builds that somebody has asked about since the start. */
  asked(): string[];
  drop(id: string): void;
  /** When nothing is being computed any more. */
  settled(): Promise<void>;
}

/** Taps that follow each other more closely than this share one forecast … */
const QUIET_MILLISECONDS = 40;
/** … which waits for a gap between them so many times at most. */
const MOST_PAUSES = 50;
/** A search takes the processor for a while; it begins when nobody taps, or after so many first answers in a row. */
const CALM_MILLISECONDS = 250;
const MOST_QUICK_ONES = 8;

type Held = KeptForecast & { readonly key: number };

interface Failure {
  readonly at: number;
  /** What was to be replaced. */
  readonly shown: Held | null;
}

/** Keeps forecasts in memory; those that are settled (searched, or all of them without a search) on disk as well. */
export function createForecastKeeper(parts: KeeperParts): ForecastKeeper {
  const { store, ground, now, computeForecast, search, firstPlans } = parts;
  const held = new Map<string, Held>();
  const running = new Map<string, Promise<void>>();
  const again = new Set<string>();
  const failures = new Map<string, Failure>();
  const sheets = createSheets(store);
  /** By build key: the threats of the last settled forecast, with since when each has stood. */
  const standing = new Map<number, readonly Threat[]>();

  const atHand = (id: string, state: GroundState): Held | null => {
    const one = held.get(id);
    if (one?.key === state.key) return one;
    const last = store.forecasts.last(state.key);
    // What another form of forecasts left out would be shown as if it were not so.
    if (!last?.current) return null;
    const { current, ...kept } = last;
    const found = { ...kept, key: state.key };
    held.set(id, found);
    return found;
  };

  const sinceWhen = (key: number, forecast: Forecast): Forecast => {
    const last = standing.has(key) ? null : store.forecasts.last(key);
    const before = standing.get(key) ?? (last?.current ? last.forecast.threats : undefined) ?? [];
    standing.set(key, before);
    return { ...forecast, threats: withSince(forecast.threats ?? [], before) };
  };

  const hold = (id: string, state: GroundState, forecast: Forecast, at: number, depth: Depth): Held => {
    const before = search ? atHand(id, state) : null;
    const settled = depth === 'deep' || !search;
    const one = {
      key: state.key,
      forecast: sinceWhen(state.key, withLastRisk(settled ? withFirstPlan(state, forecast) : forecast, before)),
      ...state.version,
      computedAt: at,
      depth,
    };
    if (settled) keep(state, one);
    held.set(id, one);
    parts.changed(id);
    return one;
  };

  const withFirstPlan = (state: GroundState, forecast: Forecast): Forecast => {
    try {
      return firstPlans.take(state, forecast);
    } catch (error) {
      parts.report(error);
      return forecast;
    }
  };

  /** Puts a settled forecast on disk, with a row of history if it changed the answer. It can be computed again, so a full disk stops nothing. */
  const keep = (state: GroundState, { key, ...kept }: Held): void => {
    sheets.put(state, kept.forecast);
    standing.set(key, kept.forecast.threats ?? []);
    try {
      const before = store.forecasts.last(key);
      const turn = turnOf(store, state, kept, before);
      const last = turn && store.forecasts.lastTurn(key);
      const former = before && last && formerText(before.forecast, [turn.roomMinutes, last.roomMinutes]);
      store.forecasts.keep(key, kept, turn, former);
      parts.kept(state.build.id);
    } catch (error) {
      parts.report(error);
    }
  };

  const computeNow = (id: string, state: GroundState): Held => {
    const at = now();
    const forecast = computeForecast(state.build, state.log, at, sheets.of(state), firstPlans.of(state));
    const one = hold(id, state, forecast, at, 'quick');
    if (!search) failures.delete(id);
    return one;
  };

  /** Kept until a forecast succeeds; told once of what is shown, or page and failure would call each other up without end. */
  const failed = (id: string, error: unknown): void => {
    parts.report(error);
    const shown = held.get(id) ?? null;
    const before = failures.get(id);
    failures.set(id, { at: now(), shown });
    if (shown !== null && before?.shown !== shown) parts.changed(id);
  };

  const show = (id: string, { forecast, revision, logSeq, computedAt, depth }: Held, stale: boolean): Snapshot => ({
    forecast,
    version: { revision, logSeq },
    computedAt,
    stale,
    failedAt: failures.get(id)?.at ?? null,
    settled: depth === 'deep' || !search,
  });

  const runSearch = async (id: string, depth: Depth): Promise<boolean> => {
    const state = ground.get(id);
    if (!state || !search) return false;
    const one = atHand(id, state);
    // Where only time has gone by, the order of work found before stands until the search is done; an old chance does not.
    if (one && depth === 'quick' && sameVersion(one, state.version) && !hasOldRisk(one.forecast)) return true;
    if (one && depth === 'deep' && one.depth === 'deep' && isFresh(one, state.version, now())) return true;
    const at = now();
    const { build, log } = state;
    const [before, first] = [sheets.of(state), firstPlans.of(state)];
    const task = { build, log, now: at, depth, ...(before ? { former: before } : {}), ...(first ? { first } : {}) };
    const forecast = await search(task);
    const present = ground.get(id);
    if (present?.key !== state.key) return false;
    const there = held.get(id);
    if (there && there.key === state.key && isNewer(there, state.version)) return false;
    if (depth === 'deep') failures.delete(id);
    hold(id, state, forecast, at, depth);
    return sameVersion(state.version, present.version);
  };

  /** Waits until nothing has been asked for a moment, but not for ever; what was asked meanwhile is served by what follows. */
  const quiet = async (id: string): Promise<void> => {
    for (let pauses = 0; pauses < MOST_PAUSES; pauses++) {
      again.delete(id);
      await pause(QUIET_MILLISECONDS);
      if (!again.has(id)) return;
    }
    again.delete(id);
  };

  const searchUntilTrue = async (id: string): Promise<void> => {
    let quickOnes = 0;
    do {
      await quiet(id);
      await runSearch(id, 'quick');
      quickOnes += 1;
      if (quickOnes < MOST_QUICK_ONES) {
        await pause(CALM_MILLISECONDS);
        if (again.has(id)) continue;
      }
      quickOnes = 0;
      const whole = await runSearch(id, 'deep');
      if (!whole && ground.get(id)) again.add(id);
    } while (again.has(id));
  };

  const computeSoon = async (id: string): Promise<void> => {
    await quiet(id);
    const state = ground.get(id);
    if (state && !isFresh(atHand(id, state), state.version, now())) computeNow(id, state);
  };

  const refresh = (id: string): void => {
    if (running.has(id)) {
      again.add(id);
      return;
    }
    // Not in the turn of the request that asks: whoever tapped is answered first, and taps in a row are answered together.
    const job = (search ? searchUntilTrue(id) : computeSoon(id))
      .catch((error) => failed(id, error))
      .finally(() => {
        running.delete(id);
        if (again.delete(id) && !search) refresh(id);
      });
    running.set(id, job);
  };

  return {
    snapshot: (id) => {
      const state = ground.get(id);
      if (!state) return null;
      const one = atHand(id, state);
      if (one !== null && isFresh(one, state.version, now())) return show(id, one, false);
      try {
        const computed = computeNow(id, state);
        if (search) refresh(id);
        return show(id, computed, false);
      } catch (error) {
        if (one === null) throw error;
        failed(id, error);
        return show(id, one, true);
      }
    },
    latest: (id) => {
      const state = ground.get(id);
      if (!state) return null;
      const one = atHand(id, state);
      if (!one) {
        const computed = computeNow(id, state);
        if (search) refresh(id);
        return show(id, computed, false);
      }
      const stale = !isFresh(one, state.version, now());
      if (stale) refresh(id);
      return show(id, one, stale);
    },
    take: (id, state, forecast) => {
      hold(id, state, forecast, now(), 'quick');
      if (search) refresh(id);
    },
    at: (id, state) => {
      const one = atHand(id, state);
      return one && sameVersion(one, state.version) ? one.forecast : null;
    },
    former: sheets.of,
    refresh,
    asked: () => [...held.keys()],
    drop: (id) => {
      held.delete(id);
      again.delete(id);
      failures.delete(id);
    },
    settled: async () => {
      while (running.size > 0) await Promise.all(running.values());
    },
  };
}

function pause(milliseconds: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, milliseconds));
}
