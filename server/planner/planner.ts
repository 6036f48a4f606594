/**
 * The planner over an open store: what every part of it rests on, what works forecasts out in the background, and what
 * pages, phones and the command line may ask and do.
 */
import { wallText } from '../engine/index.ts';
import type { Store } from '../store/index.ts';
import { createJobs, type Jobs } from './background/jobs.ts';
import type { Background } from './background/tasks.ts';
import { createClosing } from './closing.ts';
import { type Counting, createCounting } from './counting/counting.ts';
import type { EditParts } from './edits/edit-parts.ts';
import { createEdits } from './edits/edits.ts';
import { createLastEdits } from './edits/last-edits.ts';
import { createFirstPlans } from './first-plans.ts';
import { createGroundCache, type GroundCache } from './ground.ts';
import { createForecastKeeper, type ForecastKeeper } from './keeper/keeper.ts';
import type { Pauses } from './keeper/loop.ts';
import { createLedger } from './ledger.ts';
import { createListeners, type Listeners } from './listeners.ts';
import { createLevers } from './options/levers.ts';
import { createOptions } from './options/options.ts';
import { createWhatIfs } from './options/what-if.ts';
import { createPast } from './past.ts';
import type { Planner } from './types.ts';

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
  /** Milliseconds since whenever, for how long forecasts take; left out: of this process. */
  readonly clock?: () => number;
  /** Told of what went wrong in the background, where nobody waits for an answer. */
  readonly report?: (error: unknown) => void;
}

export interface RunningPlanner extends Planner, Counting {
  /** Time has gone by: forecasts that were asked for are computed again where the quarter of an hour has passed. */
  tick(): void;
  /** After a start: takes up what was left of the ledgers and first plans of all builds. */
  resume(): void;
  /** When nothing is being computed in the background any more. */
  settled(): Promise<void>;
  /** Sees to no new forecast any more: the store may be closed once what is under way has ended. */
  close(): void;
}

/** What every part of the planner is made with. */
interface Base {
  readonly store: Store;
  readonly ground: GroundCache;
  readonly jobs: Jobs;
  readonly background: Background;
  readonly listeners: Listeners;
  readonly now: () => number;
  readonly stamp: () => string;
  readonly report: (error: unknown) => void;
  /** The ground state of a build is another. */
  readonly changed: (id: string) => void;
}

/** The planner over an open store. */
export function createPlanner(parts: PlannerParts): RunningPlanner {
  const base = baseOf(parts);
  const { now } = base;
  const work = createWork(base, parts);
  const { keeper, whatIfs, levers, past } = work;
  const lastEdits = createLastEdits(now);
  const edits = createEdits({ ...base, keeper, compute: createCheck(base, keeper), saved: lastEdits.saved });
  return {
    ...createReading(base),
    ...createCounting({ ...base, keeper }),
    ...edits,
    ...createOptions({ ...base, keeper, whatIfs, edit: edits.edit }),
    ...createClosing({ ...base, keeper }),
    ...leversOf(levers),
    ...keeperOf(keeper),
    lastEdit: lastEdits.of,
    remove: (id) => {
      for (const { letGo } of [whatIfs, levers, lastEdits]) letGo(id);
      return edits.remove(id);
    },
    rebuilding: past.isRebuilding,
    resume: work.resume,
    settled: work.settled,
  };
}

function baseOf({ store, now, stamp, background, report = () => undefined }: PlannerParts): Base {
  const listeners = createListeners(report);
  return {
    store,
    ground: createGroundCache(store),
    jobs: createJobs(1, (id) => listeners.tell(id, 'work')),
    background,
    listeners,
    now,
    stamp: stamp ?? (() => `${wallText(now(), 'UTC')}:00Z`),
    report,
    changed: (id) => listeners.tell(id, 'ground'),
  };
}

/** What works in the background: forecasts, and once one is kept the ledger, the past and what would buy time. */
function createWork(base: Base, { pauses, clock }: Pick<PlannerParts, 'pauses' | 'clock'>) {
  const { store, jobs, background, listeners } = base;
  const isOpen = (id: string): boolean => (store.builds.ground(id)?.closed ?? null) === null;
  const shared = { ...base, ...background, changed: (id: string): void => listeners.tell(id, 'forecast') };
  const firstPlans = createFirstPlans(store, jobs, background.plan);
  const keeper = createForecastKeeper({
    ...shared,
    changed: (id) => {
      shared.changed(id);
      if (isOpen(id)) levers.consider(id);
    },
    firstPlans,
    kept: (id) => {
      if (isOpen(id)) ledger.workOff(id);
    },
    ...(pauses ? { pauses } : {}),
    ...(clock ? { clock } : {}),
  });
  const past = createPast(shared);
  const ledger = createLedger({ ...shared, prepare: firstPlans.settle, rebuild: past.rebuild });
  const levers = createLevers({ ...shared, keeper });
  return {
    keeper,
    past,
    levers,
    whatIfs: createWhatIfs({ ...shared, keeper }),
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

/** Works out the plan alone of a build that is to be checked, while somebody waits. */
function createCheck({ jobs, now, background }: Base, keeper: ForecastKeeper): EditParts['compute'] {
  return async (build, log, state) => {
    const beside = state ? keeper.beside(state) : {};
    const task = { build, log, now: now(), depth: 'quick', noChance: true, ...beside } as const;
    const version = state?.version ?? { revision: 0, logSeq: 0 };
    const asked = { kind: 'answer', build: build.id, version, lasting: true } as const;
    const forecast = await jobs.ask({ ...asked, run: (hand) => background.plan(task, hand) });
    if (forecast === null) throw new Error(`the check of ${build.id} was stopped`);
    return forecast;
  };
}

type Reading = Pick<
  Planner,
  'builds' | 'build' | 'read' | 'jobs' | 'stop' | 'log' | 'entry' | 'figures' | 'keepFigures' | 'onChange' | 'history'
>;

/** What is read of the store, and of what is under way. */
function createReading({ store, ground, jobs, background, listeners, stamp }: Base): Reading {
  return {
    builds: () => store.builds.list(),
    build: (id) => {
      const state = ground.get(id);
      return state ? { build: state.build, revision: state.version.revision } : null;
    },
    read: background.read,
    jobs: jobs.list,
    stop: jobs.stop,
    log: (id) => [...(ground.get(id)?.log ?? [])],
    entry: (id, entry) => ground.get(id)?.entries.get(entry) ?? null,
    figures: () => store.figures.all(),
    keepFigures: (id, figures) => {
      const state = ground.get(id);
      if (state) store.figures.keep(state.key, figures, stamp());
    },
    onChange: listeners.add,
    history: (id, since) => {
      const state = ground.get(id);
      if (!state) return [];
      return since === undefined ? store.forecasts.history(state.key) : store.forecasts.turnsFrom(state.key, since);
    },
  };
}

function leversOf({ consider, letGo, ...asked }: ReturnType<typeof createLevers>) {
  return asked;
}

function keeperOf({ snapshot, latest, failedAt, look, tick, close }: ForecastKeeper) {
  return { snapshot, latest, failedAt, look, tick, close };
}
