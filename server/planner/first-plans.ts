/**
 * Keeps the first plan of each build as it stood when the first thing was counted, so that no later edit changes what
 * the counts are compared with.
 */
import { firstCount, firstPlanIn, type KeptBaseline } from '../engine/index.ts';
import type { Forecast, LogEntry } from '../model/index.ts';
import type { Store } from '../store/index.ts';
import type { Jobs } from './background/jobs.ts';
import type { Background } from './background/tasks.ts';
import type { GroundState } from './ground.ts';
import { documentOf, minuteOf } from './history.ts';

export interface FirstPlans {
  /** The kept one; undefined where nothing was counted or it is not worked out yet. */
  of(state: GroundState): KeptBaseline | undefined;
  /**
   * Keeps that of a settled forecast, which was worked out for it, where the build has not been edited since the first
   * count; the forecast with what it is compared with now.
   */
  take(state: GroundState, forecast: Forecast): Forecast;
  /** Works out one of an earlier edit where it is missing, and drops one of counts that were all taken back. */
  settle(state: GroundState): Promise<void>;
}

/**
 * Raise it whenever a first plan is worked out otherwise: one that is kept in an older form is made again. Those of the
 * first form have no number.
 */
const FORMAT = 2;

/** First plans kept in memory and on disk; one that is missing is worked out in the background. */
export function createFirstPlans(store: Store, jobs: Jobs, plan: Background['plan']): FirstPlans {
  const known = new Map<number, KeptBaseline | null>();
  /** By build key: up to which entry of the log something was seen to be counted. */
  const counted = new Map<number, number>();

  const kept = (key: number): KeptBaseline | null => {
    const one = known.get(key);
    if (one !== undefined) return one;
    const row = store.firstPlans.get(key);
    const read = row === null ? null : readPlan(row);
    known.set(key, read);
    return read;
  };

  const drop = (key: number): void => {
    if (kept(key) === null) return;
    store.firstPlans.drop(key);
    known.set(key, null);
  };

  const keep = (key: number, first: KeptBaseline): void => {
    const { revision, ...document } = first;
    store.firstPlans.keep(key, revision, JSON.stringify({ format: FORMAT, ...document }));
    known.set(key, first);
  };

  return {
    of: ({ key }) => kept(key) ?? undefined,
    take: (state, forecast) => {
      if (forecast.firstPlan?.kind !== 'present' || kept(state.key) !== null) return forecast;
      const entry = firstCount(state.log);
      const { revision } = state.version;
      const first = firstPlanIn(forecast, revision);
      if (first === null || entry === null || revisionAt(store, state, entry) !== revision) return forecast;
      keep(state.key, first);
      return { ...forecast, firstPlan: { kind: 'kept', revision } };
    },
    settle: async (state) => {
      // What was counted stays so unless it is taken back; a long log is not read again for each new entry.
      const seen = counted.get(state.key);
      const isCounted = seen !== undefined && state.since(seen).every(({ kind }) => kind !== 'undo');
      if (isCounted && kept(state.key) !== null) return void counted.set(state.key, state.version.logSeq);
      const entry = firstCount(state.log);
      if (entry === null) {
        counted.delete(state.key);
        return drop(state.key);
      }
      counted.set(state.key, state.version.logSeq);
      if (kept(state.key) !== null) return;
      const revision = revisionAt(store, state, entry);
      const build = revision === state.version.revision ? null : documentOf(store, state, revision);
      if (build === null) return;
      const now = minuteOf(entry.at) ?? 0;
      const forecast = await jobs.ask({
        kind: 'ledger',
        build: state.build.id,
        version: state.version,
        lasting: true,
        run: (hand) => plan({ build, log: [entry], now, depth: 'quick', noChance: true }, hand),
      });
      const first = forecast && firstPlanIn(forecast, revision);
      if (first !== null && kept(state.key) === null) keep(state.key, first);
    },
  };
}

/** A kept first plan; null for one of an older form. */
function readPlan({
  revision,
  document,
}: {
  readonly revision: number;
  readonly document: string;
}): KeptBaseline | null {
  const { format, ...plan } = JSON.parse(document);
  return format === FORMAT ? { ...plan, revision } : null;
}

/** The revision that stood when the entry arrived; of an entry older than all of them the first. */
function revisionAt(store: Store, { key, version }: GroundState, { at, arrived }: LogEntry): number {
  const then = minuteOf(arrived ?? at) ?? 0;
  const revisions = store.builds.revisions(key);
  const stood = revisions.findLast(({ savedAt }) => (minuteOf(savedAt) ?? 0) <= then) ?? revisions[0];
  return stood?.revision ?? version.revision;
}
