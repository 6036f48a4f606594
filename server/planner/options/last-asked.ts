/** What was asked of a build last, worked out in the background, with what came of it; kept in memory. */
import { knownPlan } from '../background/compute.ts';
import { sameVersion } from '../background/fresh.ts';
import type { Jobs } from '../background/jobs.ts';
import type { Hand, LeversTask } from '../background/tasks.ts';
import type { GroundCache, GroundState } from '../ground.ts';
import type { ForecastKeeper } from '../keeper/keeper.ts';
import type { JobKind, LeversShown, Version } from '../types.ts';

export interface LastAskedParts {
  readonly keeper: Pick<ForecastKeeper, 'beside' | 'known'>;
  readonly ground: GroundCache;
  readonly jobs: Jobs;
  readonly now: () => number;
  readonly report: (error: unknown) => void;
  readonly changed: (id: string) => void;
}

interface Asked<T> {
  /** What it was asked about, where there is a choice. */
  readonly about: string;
  version: Version;
  found: T | null;
  /** The edit of the build that what is found is of; null: nothing is found. */
  foundOn: number | null;
  state: LeversShown['state'];
}

type Shown<T> = Readonly<Asked<T>> & { readonly isStale: boolean };

interface LastAsked<T> {
  shown(id: string): Shown<T> | null;
  /** Works it out as a job that gives way to forecasts; what was found before is shown until then. */
  begin(state: GroundState, about?: string): void;
  /** Whether it is worked out for this state. */
  isUnderWay(id: string, version: Version, about?: string): boolean;
  letGo(id: string): void;
}

/** The most builds whose answers are kept, the last of each. */
const MOST_BUILDS = 20;

/** `run` works it out as a job of this kind; `tell` hears of what is found so far. */
export function createLastAsked<T>(
  kind: JobKind,
  { keeper, ground, jobs, now, report, changed }: LastAskedParts,
  run: (task: LeversTask, hand: Hand, tell: (found: T) => void, about: string) => Promise<T | null>,
): LastAsked<T> {
  const kept = new Map<string, Asked<T>>();

  const begin = (state: GroundState, about = ''): void => {
    const { id } = state.build;
    const former = kept.get(id);
    const { found = null, foundOn = null } = former?.about === about ? former : {};
    const own: Asked<T> = { about, version: state.version, found, foundOn, state: 'running' };
    kept.delete(id);
    kept.set(id, own);
    for (const old of [...kept.keys()].slice(0, -MOST_BUILDS)) kept.delete(old);
    const isOwn = (): boolean => kept.get(id) === own;
    const keep = (some: T): void => {
      Object.assign(own, { found: some, foundOn: own.version.revision });
    };
    const tell = (some: T): void => {
      if (!isOwn()) return;
      keep(some);
      changed(id);
    };
    const end = (how: LeversShown['state']): void => {
      own.state = how;
      if (isOwn()) changed(id);
    };
    const asked = jobs.ask({
      kind,
      build: id,
      version: state.version,
      lasting: true,
      isWanted: isOwn,
      run: (hand) => {
        // It may have waited, or given way to a tap: what is looked at is the build as it is by then.
        const latest = ground.get(id) ?? state;
        own.version = latest.version;
        const known = knownPlan(keeper.known(latest));
        const task = { build: latest.build, log: latest.log, now: now(), ...keeper.beside(latest), ...known };
        return run(task, hand, tell, about);
      },
    });
    asked
      .then((all) => {
        if (all !== null) keep(all);
        end('ended');
      })
      .catch((error) => {
        report(error);
        end('failed');
      });
  };

  return {
    begin,
    shown: (id) => {
      const [state, own] = [ground.get(id), kept.get(id)];
      return state && own ? { ...own, isStale: !sameVersion(own.version, state.version) } : null;
    },
    isUnderWay: (id, version, about = '') => {
      const own = kept.get(id);
      return own?.state === 'running' && own.about === about && sameVersion(own.version, version);
    },
    letGo: (id) => void kept.delete(id),
  };
}
