/**
 * The forecast of a build's present state: whether what is at hand is one, and how it is worked out in the queue of the
 * background and put on the shelf.
 */
import type { Forecast } from '../../model/index.ts';
import type { Depth } from '../../store/index.ts';
import { hasOwnChance, isFresh, isNewer, sameVersion } from '../background/fresh.ts';
import type { Jobs } from '../background/jobs.ts';
import type { Background, Hand, PlanTask } from '../background/tasks.ts';
import { stillAt } from '../closed.ts';
import type { FirstPlans } from '../first-plans.ts';
import type { GroundCache, GroundState } from '../ground.ts';
import type { Durations } from './durations.ts';
import type { Shelf, Shelved } from './shelf.ts';

interface ComputingParts {
  readonly ground: GroundCache;
  readonly shelf: Shelf;
  readonly firstPlans: Pick<FirstPlans, 'of'>;
  readonly plan: Background['plan'];
  readonly jobs: Jobs;
  readonly now: () => number;
  readonly durations: Pick<Durations, 'begin'>;
  /** A forecast was put on the shelf. */
  readonly shown: (id: string) => void;
}

export interface Computing {
  /** What is at hand of a closed build stays true: its time stands still. */
  isTrue(one: Shelved | null, state: GroundState): boolean;
  /** Whether what is shown is of the present state. */
  isOfNow(id: string): boolean;
  /**
   * Whether a forecast of this depth is wanted. Where only time has gone by, the order of work found before is kept
   * until the search is done; an old chance does not.
   */
  needs(id: string, depth: Depth): boolean;
  /** Asks the queue for a forecast of the state as it is when its turn comes; nothing where none is wanted. */
  ask(id: string, depth: Depth): Promise<void>;
  /** What a forecast of the state is made with: the present plan, and what the counts are compared with. */
  beside(state: GroundState): Pick<PlanTask, 'former' | 'first'>;
}

/** Works out what the shelf lacks. */
export function createComputing(parts: ComputingParts): Computing {
  const { ground, shelf, firstPlans, plan, jobs, now, durations, shown } = parts;
  const beside = (state: GroundState): Pick<PlanTask, 'former' | 'first'> => {
    const [former, first] = [shelf.former(state), firstPlans.of(state)];
    return { ...(former ? { former } : {}), ...(first ? { first } : {}) };
  };

  const needs = (id: string, depth: Depth): boolean => {
    const state = ground.get(id);
    if (!state) return false;
    const one = shelf.at(id, state);
    if (one === null) return true;
    if (state.closed !== null) return depth === 'quick' && !sameVersion(one, state.version);
    if (depth === 'quick') return !sameVersion(one, state.version) || !hasOwnChance(one.forecast);
    return one.depth !== 'deep' || !isFresh(one, state.version, now());
  };

  /** Nothing older takes the place of what is shown. */
  const compute = async (id: string, depth: Depth, hand: Hand): Promise<void> => {
    const asked = ground.get(id);
    if (asked) await shelf.fetch(id, asked);
    await (asked && shelf.written(asked));
    const state = ground.get(id);
    if (!state) return;
    const at = state.closed === null ? now() : stillAt(state.closed);
    const isThere = durations.begin(id, depth);
    const put = (forecast: Forecast): void => {
      isThere();
      if (ground.get(id)?.key !== state.key) return;
      const there = shelf.at(id, state);
      if (there !== null && isNewer(there, state.version)) return;
      if (depth === 'deep') shelf.succeed(id);
      shelf.put(id, state, { forecast, at, depth });
      shown(id);
    };
    const one = shelf.at(id, state);
    const { build, log } = state;
    const task = { build, log, now: at, depth, ...beside(state), ...lotsIn(one) };
    // An edit was checked with the plan of this very state: it is shown already.
    const isShown = one !== null && sameVersion(one, state.version);
    put(await plan(task, hand, depth === 'deep' || isShown ? undefined : put));
  };

  return {
    isTrue: (one, state) =>
      state.closed === null ? isFresh(one, state.version, now()) : one !== null && sameVersion(one, state.version),
    isOfNow: (id) => {
      const state = ground.get(id);
      const one = state && shelf.at(id, state);
      return one ? sameVersion(one, state.version) : false;
    },
    needs,
    ask: async (id, depth) => {
      const state = ground.get(id);
      if (!state || !needs(id, depth)) return;
      await jobs.ask({
        kind: depth === 'quick' ? 'answer' : 'search',
        build: id,
        version: state.version,
        isWanted: () => needs(id, depth),
        run: (hand) => compute(id, depth, hand),
      });
    },
    beside,
  };
}

/** How large the plan will be, by the one at hand. */
function lotsIn(one: Shelved | null): Pick<PlanTask, 'lots'> {
  return one === null ? {} : { lots: one.forecast.lots.length };
}
