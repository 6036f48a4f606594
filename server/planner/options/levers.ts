/** What would buy time: looked for in the background, at a press or by itself where the chance is too small. */
import type { LeverSearch } from '../../model/index.ts';
import type { Jobs } from '../background/jobs.ts';
import type { Background } from '../background/tasks.ts';
import type { ForecastKeeper } from '../forecasts.ts';
import { hasOwnChance, sameVersion } from '../fresh.ts';
import type { GroundCache, GroundState } from '../ground.ts';
import type { LeversShown, Planner, Version } from '../types.ts';

export interface LeversParts {
  readonly keeper: Pick<ForecastKeeper, 'beside' | 'latest'>;
  readonly ground: GroundCache;
  readonly jobs: Jobs;
  readonly search: Background['findLevers'];
  readonly now: () => number;
  readonly report: (error: unknown) => void;
  readonly changed: (id: string) => void;
}

export interface Levers extends Pick<Planner, 'levers' | 'findLevers'> {
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

/** Searches are kept of so many builds, the last of each. */
const MOST_BUILDS = 20;

/** Looks for levers, one build at a time; the last search of a build is kept in memory. */
export function createLevers({ keeper, ground, jobs, search, now, report, changed }: LeversParts): Levers {
  const kept = new Map<string, Kept>();

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
        const { build, log, version } = ground.get(id) ?? state;
        own.version = version;
        return search({ build, log, now: now(), ...keeper.beside(ground.get(id) ?? state) }, hand, tell);
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
    consider: (id) => {
      const [state, snapshot, own] = [ground.get(id), keeper.latest(id), kept.get(id)];
      const asked = state?.build.askedChance;
      if (!state || asked === undefined || snapshot === null || !snapshot.settled) return;
      if (!sameVersion(snapshot.version, state.version) || !hasOwnChance(snapshot.forecast)) return;
      if (own !== undefined && sameVersion(own.version, state.version)) return;
      const chance = snapshot.forecast.risk?.readyBy.chance;
      if (chance !== undefined && chance < asked) begin(state);
    },
    letGo: (id) => void kept.delete(id),
  };
}
