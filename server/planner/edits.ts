/** Changes of a build: refused when they add an error, kept as a revision otherwise. */
import {
  type Build,
  checkBuild,
  checkLogEntry,
  type Forecast,
  isError,
  type LogEntry,
  type Problem,
  problem,
  type Result,
} from '../model/index.ts';
import type { Store } from '../store/index.ts';
import type { ForecastKeeper } from './forecasts.ts';
import type { GroundCache, GroundState } from './ground.ts';
import { type EntryContext, entryProblems, MAKER } from './log-check.ts';
import type { Planner } from './types.ts';

export interface EditParts {
  readonly store: Store;
  readonly ground: GroundCache;
  readonly keeper: ForecastKeeper;
  readonly now: () => number;
  readonly stamp: () => string;
  /** A first forecast, whose problems say what is wrong with the build; `state`: what was known of it before. */
  readonly compute: (build: Build, log: readonly LogEntry[], state?: GroundState) => Promise<Forecast>;
  readonly changed: (id: string) => void;
}

type Edits = Pick<Planner, 'edit' | 'takeBack' | 'create' | 'remove' | 'revisions'>;

/** Makes, changes, takes back and removes the builds in the store. */
export function createEdits(parts: EditParts): Edits {
  const { store, ground, keeper } = parts;

  const save = (
    id: string,
    state: GroundState,
    build: Build,
    cause: string,
    who: string,
  ): Result<{ revision: number }> => {
    const saved = store.together(() => {
      const present = store.builds.ground(id);
      if (present?.key !== state.key || present.revision !== state.version.revision) return null;
      return store.builds.save(state.key, build, { savedAt: parts.stamp(), who, cause });
    });
    if (saved === null) return conflict(id, state.version.revision);
    parts.changed(id);
    return { ok: true, value: { revision: saved } };
  };

  const conflict = (id: string, expected: number): Result<never> => {
    const state = ground.get(id);
    if (!state) return refused([noBuild(id)]);
    const last = store.builds.revisions(state.key).at(-1);
    const what = last ? ` (${last.cause}, by ${last.who})` : '';
    const message = `The build has been changed since you opened it${what}: it is at edit ${state.version.revision}, yours was begun on edit ${expected}.`;
    return refused([problem('conflict', 'revision', expected, message)]);
  };

  const edit: Edits['edit'] = async (id, cause, who, change, expected) => {
    const state = ground.get(id);
    if (!state) return refused([noBuild(id)]);
    const { revision } = state.version;
    if (expected !== undefined && expected !== revision) return conflict(id, expected);
    const draft = structuredClone(state.build);
    change(draft);
    // As it will be read back: without keys that hold nothing.
    const checked = checkBuild(JSON.parse(JSON.stringify(draft)));
    if (!checked.ok) return checked;
    const build = checked.value;
    if (build.id !== id) return refused([fixedId(build.id, id)]);
    if (JSON.stringify(build) === JSON.stringify(state.build)) return { ok: true, value: { revision } };
    const after = await parts.compute(build, state.log, state);
    const before = keeper.at(id, state);
    const errors = await addedErrors(after, before, () => parts.compute(state.build, state.log));
    const added = errors.filter(({ code }) => code !== 'event-past' || movesEvent(state.build, build));
    if (added.length > 0) return refused(added);
    const saved = save(id, state, build, cause, who);
    const present = saved.ok ? ground.get(id) : null;
    if (present && saved.ok && present.version.revision === saved.value.revision) {
      if (present.version.logSeq === state.version.logSeq) keeper.take(id, present, after);
      else keeper.refresh(id);
    }
    return saved;
  };

  const takeBack: Edits['takeBack'] = async (id, revision, who) => {
    const state = ground.get(id);
    if (!state) return refused([noBuild(id)]);
    const document = store.builds.document(state.key, revision);
    if (!document) {
      const message = `There is no revision ${revision} of "${id}"; they are numbered 1 to ${state.version.revision}.`;
      return refused([problem('unknown-name', 'revision', revision, message)]);
    }
    const checked = checkBuild(document);
    if (!checked.ok) return checked;
    if (JSON.stringify(document) === JSON.stringify(state.build)) {
      return { ok: true, value: { revision: state.version.revision } };
    }
    const saved = save(id, state, document, `put back as it was at revision ${revision}`, who);
    if (saved.ok) keeper.refresh(id);
    return saved;
  };

  const create: Edits['create'] = async (build, log, who) => {
    const checked = checkBuild(build);
    if (!checked.ok) return checked;
    if (ground.get(build.id)) return refused([taken(build.id)]);
    const ordered = inOrder(log);
    const misshapen = logShapeProblems(ordered);
    if (misshapen.length > 0) return refused(misshapen);
    const forecast = await parts.compute(build, ordered);
    const errors = forecast.problems.filter(isError).filter((p) => !isOver(p, log));
    const wrong = [...errors, ...logProblems(build, ordered, forecast, parts.now())];
    if (wrong.length > 0) return refused(wrong);
    const made = store.together(() => {
      if (store.builds.ground(build.id)) return false;
      const cause =
        log.length === 0
          ? 'made'
          : `brought from a file with ${log.length} log ${log.length === 1 ? 'entry' : 'entries'}`;
      const { key } = store.builds.create(build, { savedAt: parts.stamp(), who, cause });
      store.log.bring(key, ordered, parts.stamp());
      return true;
    });
    if (!made) return refused([taken(build.id)]);
    parts.changed(build.id);
    const state = ground.get(build.id);
    if (state) keeper.take(build.id, state, forecast);
    return { ok: true, value: { id: build.id } };
  };

  return {
    edit,
    takeBack,
    create,
    remove: (id) => {
      const removed = store.builds.remove(id, parts.stamp());
      if (!removed) return false;
      keeper.drop(id);
      parts.changed(id);
      return true;
    },
    revisions: (id) => {
      const state = ground.get(id);
      return state ? store.builds.revisions(state.key) : [];
    },
  };
}

/**
 * Errors that were not there before the edit, by what and where. A build that has errors already may still be edited. What
 * was computed a while ago may lack an error that only time brought (an event gone by), so doubt is settled by computing it.
 */
async function addedErrors(
  after: Forecast,
  before: Forecast | null,
  computeBefore: () => Promise<Forecast>,
): Promise<Problem[]> {
  const errors = after.problems.filter(isError);
  if (errors.length === 0) return [];
  const unknown = before ? without(errors, before.problems) : errors;
  return unknown.length === 0 ? [] : without(unknown, (await computeBefore()).problems);
}

/** An event that is past is said again when more is asked of a build that was done: that edit is not to blame for it. */
function movesEvent(before: Build, after: Build): boolean {
  return before.event !== after.event || before.zone !== after.zone;
}

function without(problems: readonly Problem[], known: readonly Problem[]): Problem[] {
  const keys = new Set(known.filter(isError).map(keyOf));
  return problems.filter((p) => !keys.has(keyOf(p)));
}

function keyOf({ code, field }: Problem): string {
  return `${code} ${field}`;
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

function logShapeProblems(log: readonly LogEntry[]): Problem[] {
  const seen = new Set<string>();
  const found: Problem[] = [];
  for (const entry of log) {
    const shape = checkLogEntry(entry);
    if (!shape.ok) found.push(...shape.problems);
    else if (seen.has(entry.id)) {
      found.push(problem('duplicate-id', 'entry.id', entry.id, `Two entries of the log have the id "${entry.id}".`));
    }
    seen.add(entry.id);
  }
  return found.map(inLog);
}

/** An export says of each entry when it arrived; a log written by hand must fit the build as it stands. */
function logProblems(build: Build, log: readonly LogEntry[], forecast: Forecast, now: number): Problem[] {
  const entries = new Map(log.map((entry) => [entry.id, entry]));
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
  return log.flatMap((entry) => entryProblems(entry, { ...context, brought: entry.arrived !== undefined })).map(inLog);
}

/** Of a file: `log.at` instead of `entry.at`. */
function inLog(p: Problem): Problem {
  return { ...p, field: p.field.replace(/^entry/, 'log') };
}

function noBuild(id: string): Problem {
  return problem('unknown-name', 'build', id, `There is no build "${id}".`);
}

function fixedId(found: string, id: string): Problem {
  return problem('conflict', 'id', found, `The id of a build stays what it was: "${id}". Its name may change.`);
}

function taken(id: string): Problem {
  const message = `There is a build "${id}" already; give this one another id, or remove the other first.`;
  return problem('duplicate-id', 'id', id, message);
}

function refused(problems: readonly Problem[]): Result<never> {
  return { ok: false, problems };
}
