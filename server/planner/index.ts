/**
 * The door of the planner: joins store and engine. It takes a build and its log from the store, keeps the last forecast
 * and what it was computed from, and lets nothing into the ground state that is wrong.
 */
import { wallText } from '../engine/index.ts';
import type { Build, Forecast, LogEntry } from '../model/index.ts';
import type { Store } from '../store/index.ts';
import { createJobs } from './background/jobs.ts';
import type { Background } from './background/tasks.ts';
import { createClosing } from './closing.ts';
import { type Counting, createCounting } from './counting.ts';
import { createEdits } from './edits.ts';
import { createFirstPlans } from './first-plans.ts';
import { createGroundCache, type GroundState } from './ground.ts';
import { hasOwnChance } from './keeper/fresh.ts';
import { createForecastKeeper } from './keeper/keeper.ts';
import type { Pauses } from './keeper/loop.ts';
import { createLedger } from './ledger.ts';
import { createLevers } from './options/levers.ts';
import { createOptions } from './options/options.ts';
import { createWhatIfs } from './options/what-if.ts';
import { createPast } from './past.ts';
import type { Changed, LastEdit, Planner } from './types.ts';

export type { Turn } from '../store/index.ts';
export { atOnce, computeLevers, computePlan, computeSizing, computeWays, tryPlan } from './background/compute.ts';
export { createForecastPool } from './background/pool.ts';
export type { Background, Hand, PlanTask } from './background/tasks.ts';
export {
  isTooLongForYaml,
  MOST_BUILD_MEGABYTES,
  MOST_FILE_MEGABYTES,
  parseBuildText,
  readBuildFile,
} from './build-text.ts';
export { causeOf } from './causes.ts';
export type { OpenDoubt } from './counting.ts';
export { MAKER } from './log-check.ts';
export { flatMapInTurns, othersTurn } from './turns.ts';
export * from './types.ts';

export interface PlannerParts {
  readonly store: Store;
  /** Minutes since the epoch. */
  readonly now: () => number;
  /**
   * The same as an ISO 8601 instant with seconds, for what is kept of an edit or an entry; left out: made from `now`.
   */
  readonly stamp?: () => string;
  /** Where plans and the parts of the ledger are worked out. */
  readonly background: Background;
  /** Left out: as they suit thumbs. */
  readonly pauses?: Pauses;
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
  /** Sees to no new forecast any more: the store may be closed once what is under way has ended. */
  close(): void;
}

/** The planner over an open store. */
export function createPlanner(parts: PlannerParts): RunningPlanner {
  const { store, now } = parts;
  const stamp = parts.stamp ?? (() => `${wallText(now(), 'UTC')}:00Z`);
  const report = parts.report ?? (() => undefined);
  const listeners = new Set<(id: string, what: Changed) => void>();
  const tell = (id: string, what: Changed): void => {
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
  const isOpen = (id: string): boolean => (ground.get(id)?.closed ?? null) === null;
  const jobs = createJobs(1, (id) => tell(id, 'work'));
  const { plan, attribute, tryOut } = parts.background;
  const firstPlans = createFirstPlans(store, jobs, plan);
  const keeper = createForecastKeeper({
    store,
    ground,
    now,
    plan,
    jobs,
    report,
    changed: (id) => {
      tell(id, 'forecast');
      if (isOpen(id)) levers.consider(id);
    },
    firstPlans,
    kept: (id) => {
      if (isOpen(id)) ledger.workOff(id);
    },
    ...(parts.pauses ? { pauses: parts.pauses } : {}),
  });
  const past = createPast({ store, ground, jobs, plan, changed: (id) => tell(id, 'forecast') });
  const ledger = createLedger({
    store,
    ground,
    jobs,
    attribute,
    prepare: firstPlans.settle,
    rebuild: past.rebuild,
    report,
    changed: (id) => tell(id, 'forecast'),
  });
  const counting = createCounting({ store, ground, keeper, now, stamp, changed, report });
  /** The plan alone of a build that is to be checked, while somebody waits. */
  const check = async (build: Build, log: readonly LogEntry[], state?: GroundState): Promise<Forecast> => {
    const task = {
      build,
      log,
      now: now(),
      depth: 'quick',
      noChance: true,
      ...(state ? keeper.beside(state) : {}),
    } as const;
    const version = state?.version ?? { revision: 0, logSeq: 0 };
    const asked = { kind: 'answer', build: build.id, version, lasting: true } as const;
    const forecast = await jobs.ask({ ...asked, run: (hand) => plan(task, hand) });
    if (forecast === null) throw new Error(`the check of ${build.id} was stopped`);
    return forecast;
  };
  const lastEdits = new Map<string, LastEdit>();
  const edits = createEdits({
    store,
    ground,
    keeper,
    now,
    stamp,
    compute: check,
    changed,
    saved: (id, { revision, logSeq, before }) => {
      lastEdits.delete(id);
      if (before === null) return;
      const chance = hasOwnChance(before) ? (before.risk?.readyBy.chance ?? null) : null;
      const then = { readyAt: before.room.readyBy.finish, chance };
      lastEdits.set(id, { revision, logSeq, at: now(), before: then });
    },
  });
  const whatIfs = createWhatIfs({ keeper, jobs, tryOut, now, report, changed: (id) => tell(id, 'forecast') });
  const levers = createLevers({
    keeper,
    ground,
    jobs,
    background: parts.background,
    now,
    report,
    changed: (id) => tell(id, 'forecast'),
  });
  const options = createOptions({ store, ground, keeper, whatIfs, edit: edits.edit, stamp, changed });

  return {
    ...counting,
    ...edits,
    ...options,
    ...createClosing({ store, ground, keeper, now, stamp, changed }),
    remove: (id) => {
      whatIfs.letGo(id);
      levers.letGo(id);
      lastEdits.delete(id);
      return edits.remove(id);
    },
    levers: levers.levers,
    sizing: levers.sizing,
    rightSize: levers.rightSize,
    partWays: levers.partWays,
    layWaysBeside: levers.layWaysBeside,
    findLevers: levers.findLevers,
    lastEdit: (id) => lastEdits.get(id) ?? null,
    builds: () => store.builds.list(),
    build: (id) => {
      const state = ground.get(id);
      return state ? { build: state.build, revision: state.version.revision } : null;
    },
    read: parts.background.read,
    snapshot: keeper.snapshot,
    latest: keeper.latest,
    failedAt: keeper.failedAt,
    look: keeper.look,
    jobs: jobs.list,
    stop: jobs.stop,
    log: (id) => [...(ground.get(id)?.log ?? [])],
    figures: () => store.figures.all(),
    keepFigures: (id, figures) => {
      const state = ground.get(id);
      if (state) store.figures.keep(state.key, figures, stamp());
    },
    onChange: (listener) => {
      listeners.add(listener);
      return () => void listeners.delete(listener);
    },
    history: (id, since) => {
      const state = ground.get(id);
      if (!state) return [];
      return since === undefined ? store.forecasts.history(state.key) : store.forecasts.turnsFrom(state.key, since);
    },
    tick: keeper.tick,
    close: keeper.close,
    rebuilding: past.isRebuilding,
    resume: () => {
      for (const { id } of store.builds.list()) if (isOpen(id)) ledger.workOff(id);
    },
    settled: async () => {
      await keeper.settled();
      await ledger.settled();
      await jobs.settled();
    },
  };
}
