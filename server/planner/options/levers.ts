/** What would buy time: looked for in the background, at a press or by itself where the chance is too small. */
import type { LeverSearch, Sizing } from '../../model/index.ts';
import type { Jobs } from '../background/jobs.ts';
import type { Background } from '../background/tasks.ts';
import type { ForecastKeeper } from '../forecasts.ts';
import { hasOwnChance, sameVersion } from '../fresh.ts';
import type { GroundCache, GroundState } from '../ground.ts';
import type { LeversShown, Planner, SizingShown, Version } from '../types.ts';

interface LeversParts {
  readonly keeper: Pick<ForecastKeeper, 'beside' | 'latest' | 'peek'>;
  readonly ground: GroundCache;
  readonly jobs: Jobs;
  readonly search: Background['findLevers'];
  readonly size: Background['rightSize'];
  readonly now: () => number;
  readonly report: (error: unknown) => void;
  readonly changed: (id: string) => void;
}

interface Levers extends Pick<Planner, 'levers' | 'findLevers' | 'sizing' | 'rightSize'> {
  /** A forecast is another: looks for levers where its chance is below the one that the maker asks for. */
  consider(id: string): void;
  /** Lets go of a build that is gone. */
  letGo(id: string): void;
}

interface Kept {
  version: Version;
  search: LeverSearch | null;
  state: LeversShown['state'];
}

interface Sized {
  readonly parameter: string;
  version: Version;
  sizing: Sizing | null;
  state: SizingShown['state'];
}

/** Searches are kept of so many builds, the last of each. */
const MOST_BUILDS = 20;

/** Looks for levers, one build at a time; the last search of a build is kept in memory. */
export function createLevers(parts: LeversParts): Levers {
  const { keeper, ground, jobs, search, size, now, report, changed } = parts;
  const kept = new Map<string, Kept>();
  const sizes = new Map<string, Sized>();

  const begin = (state: GroundState): void => {
    const { id } = state.build;
    const own: Kept = { version: state.version, search: kept.get(id)?.search ?? null, state: 'running' };
    kept.delete(id);
    kept.set(id, own);
    for (const old of [...kept.keys()].slice(0, -MOST_BUILDS)) kept.delete(old);
    const isOwn = (): boolean => kept.get(id) === own;
    const tell = (found: LeverSearch): void => {
      if (!isOwn()) return;
      own.search = found;
      changed(id);
    };
    const end = (how: LeversShown['state']): void => {
      own.state = how;
      if (isOwn()) changed(id);
    };
    const asked = jobs.ask({
      kind: 'levers',
      build: id,
      version: state.version,
      lasting: true,
      isWanted: isOwn,
      run: (hand) => {
        // It may have waited, or given way to a tap: what is looked at is the build as it is by then.
        const latest = ground.get(id) ?? state;
        own.version = latest.version;
        return search({ build: latest.build, log: latest.log, now: now(), ...keeper.beside(latest) }, hand, tell);
      },
    });
    asked
      .then((found) => {
        if (found !== null) own.search = found;
        end('ended');
      })
      .catch((error) => {
        report(error);
        end('failed');
      });
  };

  const measure = (state: GroundState, parameter: string): void => {
    const { id } = state.build;
    const own: Sized = { parameter, version: state.version, sizing: null, state: 'running' };
    sizes.delete(id);
    sizes.set(id, own);
    for (const old of [...sizes.keys()].slice(0, -MOST_BUILDS)) sizes.delete(old);
    const isOwn = (): boolean => sizes.get(id) === own;
    const end = (how: SizingShown['state']): void => {
      own.state = how;
      if (isOwn()) changed(id);
    };
    const run: Parameters<typeof jobs.ask<Sizing | null>>[0]['run'] = (hand) => {
      const latest = ground.get(id) ?? state;
      own.version = latest.version;
      return size({ build: latest.build, log: latest.log, now: now(), ...keeper.beside(latest), parameter }, hand);
    };
    jobs
      .ask<Sizing | null>({ kind: 'levers', build: id, version: state.version, lasting: true, isWanted: isOwn, run })
      .then((found) => {
        own.sizing = found;
        end('ended');
      })
      .catch((error) => {
        report(error);
        end('failed');
      });
  };

  const isUnderWay = (id: string, version: Version): boolean => {
    const own = kept.get(id);
    return own !== undefined && own.state === 'running' && sameVersion(own.version, version);
  };

  return {
    levers: (id) => {
      const [state, own] = [ground.get(id), kept.get(id)];
      return state && own ? { ...own, isStale: !sameVersion(own.version, state.version) } : null;
    },
    findLevers: (id) => {
      const state = ground.get(id);
      if (!state) return false;
      if (!isUnderWay(id, state.version)) begin(state);
      return true;
    },
    sizing: (id) => {
      const [state, own] = [ground.get(id), sizes.get(id)];
      return state && own ? { ...own, isStale: !sameVersion(own.version, state.version) } : null;
    },
    rightSize: (id, parameter) => {
      const state = ground.get(id);
      if (!state?.build.parameters?.some(({ name }) => name === parameter)) return false;
      measure(state, parameter);
      return true;
    },
    consider: (id) => {
      const [state, snapshot, own] = [ground.get(id), keeper.peek(id), kept.get(id)];
      const asked = state?.build.askedChance;
      if (!state || asked === undefined || snapshot === null || !snapshot.settled) return;
      if (!sameVersion(snapshot.version, state.version) || !hasOwnChance(snapshot.forecast)) return;
      if (own !== undefined && sameVersion(own.version, state.version)) return;
      const chance = snapshot.forecast.risk?.readyBy.chance;
      if (chance !== undefined && chance < asked) begin(state);
    },
    letGo: (id) => {
      kept.delete(id);
      sizes.delete(id);
    },
  };
}
