/** A build that is brought in whole, with or without a log: checked, then stored where its id is free. */
import {
  type Build,
  checkBuild,
  checkLogEntry,
  type Forecast,
  isError,
  type LogEntry,
  type Problem,
  problem,
  problemTexts,
  type Result,
  type RevisionCause,
} from '../../model/index.ts';
import { AT_ONCE, flatMapInTurns, someInTurns } from '../../turns/turns.ts';
import { type EntryContext, entryProblems, MAKER } from '../log-check.ts';
import { idTaken, refused } from '../refusals.ts';
import type { EditParts } from './edit-parts.ts';

/** Makes a build; refused with every error of it and of its log. */
export async function bringBuild(
  parts: EditParts,
  build: Build,
  log: readonly LogEntry[],
  who: string,
): Promise<Result<{ readonly id: string }>> {
  const { ground, keeper } = parts;
  const checked = checkBuild(build);
  if (!checked.ok) return checked;
  if (ground.get(build.id)) return refused(idTaken(build.id));
  const ordered = inOrder(log);
  const misshapen = await logShapeProblems(ordered);
  if (misshapen.length > 0) return refused(...misshapen);
  const forecast = await parts.compute(build, ordered);
  const errors = forecast.problems.filter(isError).filter((p) => !isOver(p, log));
  const wrong = [...errors, ...(await logProblems(build, ordered, forecast, parts.now()))];
  if (wrong.length > 0) return refused(...wrong);
  if (!(await storeBuild(parts, build, ordered, who))) return refused(idTaken(build.id));
  await ground.fetch(build.id);
  parts.changed(build.id);
  const state = ground.get(build.id);
  if (state) keeper.take(build.id, state, forecast);
  return { ok: true, value: { id: build.id } };
}

/**
 * Stores a build with its log; false: its id is taken. A long log is stored in turns with others' work, and the build
 * is seen by nobody until all of it is there.
 */
async function storeBuild(
  { store, stamp }: EditParts,
  build: Build,
  log: readonly LogEntry[],
  who: string,
): Promise<boolean> {
  const cause: RevisionCause = log.length === 0 ? { code: 'made' } : { code: 'import', entries: log.length };
  const saved = { savedAt: stamp(), who, cause };
  const isFree = (): boolean => !store.builds.ground(build.id);
  if (log.length <= AT_ONCE) {
    return store.together(() => {
      if (!isFree()) return false;
      store.log.bring(store.builds.create(build, saved).key, log, saved.savedAt);
      return true;
    });
  }
  const { key } = store.builds.prepare(build, saved);
  await someInTurns(log, (some) => store.log.bring(key, some, saved.savedAt));
  return store.together(() => {
    if (!isFree()) return false;
    store.builds.show(key);
    return true;
  });
}

/** A build that comes with a log is one that was really made: it may be brought back when its event is over. */
function isOver({ code }: Problem, log: readonly LogEntry[]): boolean {
  return code === 'event-past' && log.length > 0;
}

/** By their numbers where all have one, as an export writes them; as they stand otherwise. */
function inOrder(log: readonly LogEntry[]): readonly LogEntry[] {
  if (log.some(({ seq }) => seq === undefined)) return log;
  return [...log].sort((a, b) => (a.seq ?? 0) - (b.seq ?? 0));
}

async function logShapeProblems(log: readonly LogEntry[]): Promise<Problem[]> {
  const seen = new Set<string>();
  const found = await flatMapInTurns(log, (entry): readonly Problem[] => {
    const shape = checkLogEntry(entry);
    const isTwice = seen.has(entry.id);
    seen.add(entry.id);
    if (!shape.ok) return shape.problems;
    return isTwice ? [problem('duplicate-id', 'entry.id', entry.id, problemTexts.log.idTwice(entry.id))] : [];
  });
  return found.map(inLog);
}

/** An export says of each entry when it arrived; a log written by hand must fit the build as it is. */
async function logProblems(
  build: Build,
  log: readonly LogEntry[],
  forecast: Forecast,
  now: number,
): Promise<Problem[]> {
  const entries = new Map<string, LogEntry>();
  await someInTurns(log, (some) => {
    for (const entry of some) entries.set(entry.id, entry);
  });
  const orders = new Set(forecast.steps.filter(({ kind }) => kind === 'order').map(({ id }) => id));
  const context: Omit<EntryContext, 'brought'> = {
    build,
    orders,
    setCount: forecast.setCount,
    now,
    who: MAKER,
    entry: (id) => entries.get(id),
    lastSeen: () => null,
  };
  const wrong = (entry: LogEntry): readonly Problem[] =>
    entryProblems(entry, { ...context, brought: entry.arrived !== undefined });
  return (await flatMapInTurns(log, wrong)).map(inLog);
}

/** For a file: `log.at` instead of `entry.at`. */
function inLog(p: Problem): Problem {
  return { ...p, field: p.field.replace(/^entry/, 'log') };
}
