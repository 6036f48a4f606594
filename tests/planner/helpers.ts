import type {
  Build,
  Forecast,
  LedgerPart,
  LogEntry,
  NewLogEntry,
  Problem,
  TurnFact,
} from '../../server/model/index.ts';
import {
  atOnce,
  type Background,
  createPlanner,
  type PlannerParts,
  type PlanTask,
  type RunningPlanner,
} from '../../server/planner/index.ts';
import type { Store } from '../../server/store/index.ts';
import { lantern, openStore, tap } from '../store/helpers.ts';
import { SHORT_PAUSES } from './at-once.ts';
import { NOON, simpleForecast } from './simple-forecast.ts';

export * from './simple-forecast.ts';

export interface Bench {
  readonly planner: RunningPlanner;
  readonly store: Store;
  /** Minutes since the epoch; set it to let time pass. */
  clock: { now: number };
  /** Changes that were told, save those of background work. */
  readonly heard: string[];
  readonly errors: unknown[];
  /** How often a first answer or the check of an edit was computed. */
  readonly computed: { count: number };
}

export interface BenchParts extends Partial<Omit<PlannerParts, 'background'>> {
  /** What any task is answered with. */
  readonly computeForecast?: (build: Build, log: readonly LogEntry[], now: number, task: PlanTask) => Forecast;
  /** Answers the tasks of the background, save for checks. */
  readonly search?: Background['plan'];
  readonly attribute?: Background['attribute'];
}

/** A planner over a database in memory with the lantern in it, all settled unless a search of its own is given. */
export async function bench(parts: BenchParts = {}, build: Build = lantern()): Promise<Bench> {
  const {
    computeForecast = simpleForecast,
    search,
    attribute = async (): Promise<LedgerPart[]> => [],
    ...rest
  } = parts;
  const store = parts.store ?? openStore();
  const clock = { now: NOON };
  const computed = { count: 0 };
  const errors: unknown[] = [];
  const plan: Background['plan'] = async (task, hand, onPlan) => {
    if (task.depth === 'quick') computed.count += 1;
    if (search !== undefined && !task.noChance) return search(task, hand, onPlan);
    const { risk, ...forecast } = computeForecast(task.build, task.log, task.now, task);
    return task.noChance || risk === undefined ? forecast : { ...forecast, risk };
  };
  const planner = createPlanner({
    store,
    now: () => clock.now,
    background: {
      ...atOnce,
      plan,
      tryOut: async (task, hand) => ({ forecast: await plan(task, hand), ends: null }),
      attribute,
    },
    pauses: SHORT_PAUSES,
    report: (error) => errors.push(error),
    ...rest,
  });
  if (!planner.build(build.id)) {
    const made = await planner.create(build, [], 'maker');
    if (!made.ok) throw new Error(made.problems.map((p) => p.message).join(' '));
    if (search === undefined) await planner.settled();
  }
  const heard: string[] = [];
  planner.onChange((id, what) => {
    if (what !== 'work') heard.push(`${id} ${what}`);
  });
  computed.count = 0;
  return { planner, store, clock, heard, errors, computed };
}

let next = 0;
/** A tap at noon with an id of its own. */
export function noonTap(changes: Partial<NewLogEntry> = {}): NewLogEntry {
  next += 1;
  return tap(`tap-${String(next).padStart(6, '0')}`, { at: '2026-11-30T12:00:00Z', ...changes });
}

/** The fact that an edit was made. */
export function byEdit(edit: number): TurnFact {
  return { code: 'edit', edit };
}

/** The fact that so many ribs were cut, or whatever else was logged of cutting. */
export function ribs(n: number, kind: NewLogEntry['kind'] = 'done'): TurnFact {
  return { code: 'logged', kind, n, step: { id: 'cut', name: 'cut ribs' } };
}

/** The words of all problems of a result or receipt, joined. */
export function words(result: { readonly problems?: readonly Problem[]; readonly ok?: boolean }): string {
  return (result.problems ?? []).map((p) => `${p.field}: ${p.message}`).join('\n');
}
