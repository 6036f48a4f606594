/**
 * Works out afterwards what a log that came with a build says of its past: one forecast for each working day, as it
 * would have been made then, put into the ledger of room before the first row. Nothing of what was edited in that time
 * is known.
 */
import { pastInstants } from '../engine/index.ts';
import type { Build, Forecast, LogEntry } from '../model/index.ts';
import type { NewTurn, Store, TurnAfter } from '../store/index.ts';
import { flatMapInTurns, othersTurn } from '../turns/turns.ts';
import { type WrittenSchedule, writtenInTurns } from './background/former.ts';
import type { Jobs } from './background/jobs.ts';
import type { Background, Hand, PlanTask } from './background/tasks.ts';
import { causeOf } from './causes.ts';
import type { GroundCache, GroundState } from './ground.ts';
import { documentOf, logOf, minuteOf } from './history.ts';
import { formerText } from './ledger.ts';
import { drifted } from './turn.ts';

interface PastParts {
  readonly store: Store;
  readonly ground: GroundCache;
  readonly jobs: Jobs;
  readonly plan: Background['plan'];
  readonly changed: (id: string) => void;
}

interface Past {
  /** Does nothing where the first row of history is as old as the log. All rows are there at once or none is. */
  rebuild(id: string): Promise<void>;
  /** Whether it is being worked out, or about to be. */
  isRebuilding(id: string): boolean;
}

/** One look at the past that made a row. */
interface Looked {
  readonly plan: WrittenSchedule;
  readonly turn: NewTurn;
}

/** An entry with the minute since the epoch at which it happened. */
interface Timed {
  readonly entry: LogEntry;
  readonly minute: number;
}

/** The past of builds whose log is older than their first forecast. A build is tried once until the next start. */
export function createPast({ store, ground, jobs, plan, changed }: PastParts): Past {
  const tried = new Set<number>();

  const isMissing = ({ key }: GroundState): boolean => {
    const first = store.forecasts.turn(key, 1);
    return !tried.has(key) && first !== null && !first.rebuilt && first.logSeq > 0;
  };

  const work = async (id: string, state: GroundState): Promise<void> => {
    const { key } = state;
    const first = store.forecasts.turn(key, 1)!;
    const build = documentOf(store, state, first.revision) ?? state.build;
    const rows: TurnAfter[] = [];
    let before: Looked | null = null;
    const logged = await logOf(state.log, first);
    await othersTurn();
    const timed = await timedOf(logged);
    await othersTurn();
    const outer = outermost(timed);
    await othersTurn();
    const instants = pastInstants(build, outer, first.computedAt);
    await othersTurn();
    for (const [i, computedAt] of instants.entries()) {
      const log = timed.filter(({ minute }) => minute <= computedAt).map(({ entry }) => entry);
      const task = { build, log, now: computedAt, depth: 'deep' } as const;
      const former: Pick<PlanTask, 'former'> = before === null ? {} : { former: before.plan };
      const forecast: Forecast | null = await jobs.ask({
        kind: 'past',
        build: id,
        version: state.version,
        lasting: true,
        run: (hand) => plan({ ...task, ...former }, partOf(hand, i, instants.length)),
      });
      // Stopped, or the build is gone.
      if (forecast === null || ground.get(id)?.key !== key) return;
      const since = before?.turn.computedAt ?? Number.NEGATIVE_INFINITY;
      const news = timed.filter(({ minute }) => minute > since && minute <= computedAt).map(({ entry }) => entry);
      const turn = turnIn(build, { forecast, log, news, computedAt, revision: first.revision }, before);
      if (turn === null) continue;
      rows.push({ turn, former: before && formerText(before.plan, [before.turn.roomMinutes, turn.roomMinutes]) });
      before = { plan: await writtenInTurns(forecast), turn };
    }
    if (before === null) return;
    const { plan: last, turn } = before;
    store.forecasts.prepend(key, rows, formerText(last, [turn.roomMinutes, first.roomMinutes]));
    changed(id);
  };

  return {
    rebuild: async (id) => {
      const state = ground.get(id);
      if (!state || !isMissing(state)) return;
      try {
        await work(id, state);
      } finally {
        tried.add(state.key);
      }
    },
    isRebuilding: (id) => {
      const state = ground.get(id);
      return state !== null && isMissing(state);
    },
  };
}

/** The hand of one of several looks, which says how far all of them are. */
function partOf({ signal, progress }: Hand, done: number, total: number): Hand {
  progress(100 * done, 100 * total);
  return {
    signal,
    progress: (part, whole) => progress(Math.round(100 * (done + (whole === 0 ? 0 : part / whole))), 100 * total),
  };
}

function timedOf(log: readonly LogEntry[]): Promise<Timed[]> {
  return flatMapInTurns(log, (entry) => [{ entry, minute: minuteOf(entry.at) ?? 0 }]);
}

/** In every zone a day begins at a quarter of an hour. */
const QUARTER = 15;

/** The first and the last entry of each quarter of an hour: no others say where a day with entries begins and ends. */
function outermost(timed: readonly Timed[]): LogEntry[] {
  const quarters = new Map<number, { first: Timed; last: Timed }>();
  for (const one of timed) {
    const quarter = Math.floor(one.minute / QUARTER);
    const known = quarters.get(quarter);
    if (known === undefined) quarters.set(quarter, { first: one, last: one });
    else if (one.minute < known.first.minute) known.first = one;
    else if (one.minute > known.last.minute) known.last = one;
  }
  return [...quarters.values()].flatMap(({ first, last }) => [first.entry, last.entry]);
}

interface Look extends Pick<NewTurn, 'computedAt' | 'revision'> {
  readonly forecast: Forecast;
  readonly log: readonly LogEntry[];
  /** What was logged since the row before. */
  readonly news: readonly LogEntry[];
}

/** The row that a look makes; null where nothing was logged since the row before and the answer stood. */
function turnIn(
  build: Build,
  { forecast, log, news, computedAt, revision }: Look,
  before: Looked | null,
): NewTurn | null {
  const { finish, clock } = forecast.room.readyBy;
  if (before !== null && news.length === 0 && !drifted(before.turn, finish, clock)) return null;
  const names = new Set(news.flatMap(({ who }) => who ?? []));
  return {
    computedAt,
    revision,
    logSeq: log.reduce((most, { seq }) => Math.max(most, seq ?? 0), 0),
    cause:
      before === null
        ? [{ code: 'nothing-counted' }]
        : causeOf([], news, { steps: forecast.steps, people: [...(build.people ?? []), ...(build.machines ?? [])] }),
    who: names.size === 0 ? null : [...names].join(', '),
    readyAt: finish,
    roomMinutes: clock,
    chance: forecast.risk?.readyBy.chance ?? null,
  };
}
