/** Changes of a build: refused when they add an error, kept as a revision otherwise. */
import { randomUUID } from 'node:crypto';
import { askedBy, settleRipple } from '../engine/index.ts';
import {
  applyChanges,
  type Build,
  type Change,
  changesBack,
  changesBetween,
  checkBuild,
  checkLogEntry,
  type Forecast,
  isError,
  type LogEntry,
  type NewLogEntry,
  type Problem,
  problem,
  problemTexts,
  type Result,
  type RevisionCause,
  type RippleEntry,
} from '../model/index.ts';
import { standingAmong } from '../model/log/index.ts';
import type { Saved, Store } from '../store/index.ts';
import { closedProblem } from './closed.ts';
import type { GroundCache, GroundState } from './ground.ts';
import { documentOf, pastEdit } from './history.ts';
import type { ForecastKeeper } from './keeper/keeper.ts';
import { type EntryContext, entryProblems, MAKER } from './log-check.ts';
import { AT_ONCE, flatMapInTurns, someInTurns } from './turns.ts';
import type { Planner, RippleTold } from './types.ts';

const say = problemTexts.edits;

interface EditParts {
  readonly store: Store;
  readonly ground: GroundCache;
  readonly keeper: ForecastKeeper;
  readonly now: () => number;
  readonly stamp: () => string;
  /** A first forecast, whose problems say what is wrong with the build; `state`: what was known of it before. */
  readonly compute: (build: Build, log: readonly LogEntry[], state?: GroundState) => Promise<Forecast>;
  readonly changed: (id: string) => void;
  /** An edit was kept: which, of what state, and what was forecast of that state, if anything was. */
  readonly saved?: (id: string, edit: { revision: number; logSeq: number; before: Forecast | null }) => void;
}

type Edits = Pick<
  Planner,
  'edit' | 'ripple' | 'takeBack' | 'undo' | 'create' | 'remove' | 'removed' | 'bringBack' | 'revisions' | 'pastEdit'
>;

/** How often an edit that waits for no edit in particular is made again because another came between. */
const MOST_TRIES = 3;

/** Makes, changes, takes back and removes the builds in the store. */
export function createEdits(parts: EditParts): Edits {
  const { store, ground, keeper } = parts;

  const save = (
    id: string,
    state: GroundState,
    build: Build,
    saved: Omit<Saved, 'savedAt'>,
    entries: readonly NewLogEntry[],
  ): number | null => {
    const revision = store.together(() => {
      const present = store.builds.ground(id);
      if (present?.key !== state.key || present.revision !== state.version.revision) return null;
      if (store.builds.closed(state.key) !== null) return null;
      // What was counted meanwhile may have moved the units that the entries speak of.
      if (entries.length > 0 && present.logSeq !== state.version.logSeq) return null;
      if (entries.length > 0) store.log.append(state.key, entries, parts.stamp());
      return store.builds.save(state.key, build, { savedAt: parts.stamp(), ...saved });
    });
    if (revision !== null) parts.changed(id);
    return revision;
  };

  /** What speaks against the build after an edit, besides what was wrong with it before; with the forecast of it. */
  const check = async (
    build: Build,
    state: GroundState,
    entries: readonly NewLogEntry[],
  ): Promise<{ after: Forecast; added: Problem[] }> => {
    const numbered = entries.map((entry, i) => ({ ...entry, seq: state.version.logSeq + i + 1 }));
    const after = await parts.compute(build, [...state.log, ...numbered], state);
    const errors = await addedErrors(after, keeper.at(state.build.id, state), () =>
      parts.compute(state.build, state.log),
    );
    return { after, added: errors.filter(({ code }) => code !== 'event-past' || movesEvent(state.build, build)) };
  };

  /** Hands the forecast on that the edit was checked with, unless something was counted meanwhile. */
  const hand = (id: string, logSeq: number, revision: number, after: Forecast | null): void => {
    const present = ground.get(id);
    if (present?.version.revision !== revision) return;
    if (after !== null && present.version.logSeq === logSeq) keeper.take(id, present, after);
    else keeper.refresh(id);
  };

  const change = async ({ id, who, cause, expected, changesOf, unchecked }: Asked): Promise<Result<Revised>> => {
    for (let tries = 1; ; tries++) {
      const state = ground.get(id);
      if (!state) return refused([noBuild(id)]);
      if (state.closed !== null) return refused([closedProblem(state.build, state.closed)]);
      const { revision } = state.version;
      if (expected !== undefined && expected !== revision) return changedMeanwhile(store, state, expected);
      const changes = changesOf(state);
      if (!changes.ok) return changes;
      const made = applyChanges(state.build, changes.value.changes);
      if (!made.ok) return made;
      if (changesBetween(state.build, made.value).length === 0) return { ok: true, value: { revision } };
      const entries = changes.value.entries.map((entry) => logged(entry, who, parts.stamp()));
      const checked = unchecked ? null : await check(made.value, state, entries);
      if (checked && checked.added.length > 0) return refused(checked.added);
      const before = keeper.at(id, state);
      const caused = entries.length === 0 ? cause : { ...cause, logged: entries.map((entry) => entry.id) };
      const saved = save(id, state, made.value, { who, cause: caused, changes: changes.value.changes }, entries);
      if (saved !== null) {
        const logSeq = state.version.logSeq + entries.length;
        parts.saved?.(id, { revision: saved, logSeq, before });
        hand(id, logSeq, saved, checked?.after ?? null);
        return { ok: true, value: { revision: saved } };
      }
      if (tries === MOST_TRIES) return changedMeanwhile(store, ground.get(id) ?? state, revision);
    }
  };

  const edit: Edits['edit'] = (id, changes, who, expected, cause = { code: 'edit' }, told = NOTHING_TOLD) =>
    change({ id, who, cause, expected, changesOf: (state) => withAnswers(state, changes, told) });

  const ripple: Edits['ripple'] = (id, changes, expected, part = null) => {
    const state = ground.get(id);
    if (!state) return refused([noBuild(id)]);
    if (state.closed !== null) return refused([closedProblem(state.build, state.closed)]);
    if (state.version.revision !== expected) return changedMeanwhile(store, state, expected);
    const made = applyChanges(state.build, changes);
    return made.ok ? { ok: true, value: askedBy(state.build, made.value, changes, state.log, part) } : made;
  };

  const takeBack: Edits['takeBack'] = (id, edit, who) => {
    const changesOf = (state: GroundState): Result<Made> => {
      const document = documentOf(store, state, edit);
      if (!document) return refused([noEdit(edit, state)]);
      const changes = changesBetween(state.build, document);
      return { ok: true, value: { changes, entries: entriesSince(store, state, edit) } };
    };
    // What was once right may have become wrong with time; back to it one may go all the same.
    return change({ id, who, cause: { code: 'back-to', edit }, changesOf, unchecked: true });
  };

  const undo: Edits['undo'] = (id, edit, who) => {
    const changesOf = (state: GroundState): Result<Made> => {
      const past = pastEdit(store, state, edit);
      if (past !== null) {
        const back = changesBack(past, state.build);
        const entries = entriesOf(store, state, edit).map((entry) => ({ kind: 'undo' as const, undoes: entry }));
        return back.ok ? { ok: true, value: { changes: back.value, entries: entries.reverse() } } : back;
      }
      return refused([edit === 1 ? problem('unknown-name', 'revision', edit, say.firstEdit) : noEdit(edit, state)]);
    };
    return change({ id, who, cause: { code: 'undo', edit }, changesOf });
  };

  /**
   * Stores a build with its log; false: its id is taken. A long log is stored in turns with others' work, and the build
   * is seen by nobody until all of it is there.
   */
  const bring = async (build: Build, log: readonly LogEntry[], who: string): Promise<boolean> => {
    const cause: RevisionCause = log.length === 0 ? { code: 'made' } : { code: 'import', entries: log.length };
    const saved = { savedAt: parts.stamp(), who, cause };
    if (log.length <= AT_ONCE) {
      return store.together(() => {
        if (store.builds.ground(build.id)) return false;
        store.log.bring(store.builds.create(build, saved).key, log, saved.savedAt);
        return true;
      });
    }
    const { key } = store.builds.prepare(build, saved);
    await someInTurns(log, (some) => store.log.bring(key, some, saved.savedAt));
    return store.together(() => {
      if (store.builds.ground(build.id)) return false;
      store.builds.show(key);
      return true;
    });
  };

  const create: Edits['create'] = async (build, log, who) => {
    const checked = checkBuild(build);
    if (!checked.ok) return checked;
    if (ground.get(build.id)) return refused([taken(build.id)]);
    const ordered = inOrder(log);
    const misshapen = await logShapeProblems(ordered);
    if (misshapen.length > 0) return refused(misshapen);
    const forecast = await parts.compute(build, ordered);
    const errors = forecast.problems.filter(isError).filter((p) => !isOver(p, log));
    const wrong = [...errors, ...(await logProblems(build, ordered, forecast, parts.now()))];
    if (wrong.length > 0) return refused(wrong);
    if (!(await bring(build, ordered, who))) return refused([taken(build.id)]);
    await ground.fetch(build.id);
    parts.changed(build.id);
    const state = ground.get(build.id);
    if (state) keeper.take(build.id, state, forecast);
    return { ok: true, value: { id: build.id } };
  };

  return {
    edit,
    ripple,
    takeBack,
    undo,
    create,
    remove: (id) => {
      const removed = store.builds.remove(id, parts.stamp());
      if (!removed) return false;
      keeper.drop(id);
      parts.changed(id);
      return true;
    },
    removed: () => store.builds.removed(),
    bringBack: (key) => {
      const found = store.builds.removed().find((one) => one.key === key);
      if (found === undefined) return { ok: false, problems: [problem('gone', 'build', String(key), say.notRemoved)] };
      if (!store.builds.bringBack(key))
        return { ok: false, problems: [problem('duplicate-id', 'build', found.id, say.idTaken(found.id))] };
      parts.changed(found.id);
      return { ok: true, value: { id: found.id } };
    },
    revisions: (id) => {
      const state = ground.get(id);
      return state ? store.builds.revisions(state.key) : [];
    },
    pastEdit: (id, revision) => {
      const state = ground.get(id);
      return state && pastEdit(store, state, revision);
    },
  };
}

type Revised = { readonly revision: number };

/** What an edit makes: changes of the build, and entries that go into the log with them. */
interface Made {
  readonly changes: readonly Change[];
  readonly entries: readonly RippleEntry[];
}

const NOTHING_TOLD: RippleTold = { answers: [], part: null };

/** Changes with what the answers about units that are made come to; what is not answered stays unchecked. */
function withAnswers(state: GroundState, changes: readonly Change[], { answers, part }: RippleTold): Result<Made> {
  const after = applyChanges(state.build, changes);
  if (!after.ok) return after;
  const { made, ripple, isAnswer } = askedBy(state.build, after.value, changes, state.log, part);
  if (made.length === 0 && answers.length === 0) return { ok: true, value: { changes, entries: [] } };
  const drawn = [...new Set(made.map((units) => units.part))].map((id) => {
    const [was, is] = [state.build, after.value].map((build) => build.parts?.find((one) => one.id === id)?.revision);
    return { id, revision: was ?? '', isRaised: !isAnswer && was === is };
  });
  const settled = settleRipple({
    build: after.value,
    log: state.log,
    made,
    answers,
    revisions: new Map(drawn.map(({ id, revision }) => [id, revision])),
    raised: new Set(drawn.filter(({ isRaised }) => isRaised).map(({ id }) => id)),
    because: ripple.because,
  });
  if (!settled.ok) return settled;
  return { ok: true, value: { changes: [...changes, ...settled.value.changes], entries: settled.value.entries } };
}

/** An entry that goes with an edit, as one that a phone would have sent. */
function logged(entry: RippleEntry, who: string, at: string): NewLogEntry {
  return { id: randomUUID(), at, who, ...entry };
}

/** The entries that were made with an edit, by id. */
function entriesOf(store: Store, { key }: GroundState, edit: number): readonly string[] {
  const cause = store.builds.revisions(key).find(({ revision }) => revision === edit)?.cause;
  return cause !== undefined && 'logged' in cause ? (cause.logged ?? []) : [];
}

/**
 * What takes back the entries made with the edits after one: those of them that stand, and undos among them that keep
 * down an entry from before.
 */
function entriesSince(store: Store, state: GroundState, edit: number): RippleEntry[] {
  const later = store.builds
    .revisions(state.key)
    .filter(({ revision }) => revision > edit)
    .flatMap(({ revision }) => entriesOf(store, state, revision));
  const { stands } = standingAmong(state.log);
  const known = new Set(later);
  return later.flatMap((id): RippleEntry[] => {
    const entry = state.entries.get(id);
    const isWanted = entry?.kind !== 'undo' || (entry.undoes !== undefined && !known.has(entry.undoes));
    return entry !== undefined && stands(id) && isWanted ? [{ kind: 'undo', undoes: id }] : [];
  });
}

interface Asked {
  readonly id: string;
  readonly who: string;
  readonly cause: RevisionCause;
  /** The edit that whoever asks has seen; left out: whichever is the last. */
  readonly expected?: number | undefined;
  readonly changesOf: (state: GroundState) => Result<Made>;
  /** Made without asking whether it adds an error. */
  readonly unchecked?: boolean;
}

/** Refuses what was begun on an edit that is not the last any more, by who made the last. */
export function changedMeanwhile(store: Store, { key, version }: GroundState, begun: number): Result<never> {
  const who = store.builds.revisions(key).at(-1)?.who ?? MAKER;
  return refused([problem('conflict', 'revision', begun, say.changedMeanwhile(who, version.revision, begun))]);
}

function noEdit(edit: number, { version }: GroundState): Problem {
  return problem('unknown-name', 'revision', edit, say.noEdit(edit, version.revision));
}

/**
 * Errors that were not there before the edit, by what and where. A build that has errors already may still be edited.
 * What was computed a while ago may lack an error that only time brought (an event gone by), so doubt is settled by
 * computing it.
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

/** Errors of a forecast that another of the same instant does not have. */
export function newErrors(after: Forecast, before: Forecast): Problem[] {
  return without(after.problems.filter(isError), before.problems);
}

/**
 * An event that is past is said again when more is asked of a build that was done: that edit is not to blame for it.
 */
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

/** An export says of each entry when it arrived; a log written by hand must fit the build as it stands. */
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

/** Of a file: `log.at` instead of `entry.at`. */
function inLog(p: Problem): Problem {
  return { ...p, field: p.field.replace(/^entry/, 'log') };
}

function noBuild(id: string): Problem {
  return problem('unknown-name', 'build', id, say.noBuild(id));
}

function taken(id: string): Problem {
  return problem('duplicate-id', 'id', id, say.taken(id));
}

function refused(problems: readonly Problem[]): Result<never> {
  return { ok: false, problems };
}
