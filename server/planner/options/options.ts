/**
 * Options of a build: changes kept beside it under a name, tried out beside the plan as it is, adopted as an edit or
 * dropped.
 */
import {
  applyChanges,
  type Build,
  type Change,
  changesBetween,
  type Edit,
  type Forecast,
  LONGEST_OPTION_NAME,
  MOST_OPTIONS,
  type Problem,
  problem,
  problemTexts,
  type Result,
  thingAt,
  thingName,
} from '../../model/index.ts';
import type { OptionRow, Store } from '../../store/index.ts';
import { closedProblem } from '../closed.ts';
import { changedMeanwhile, newErrors } from '../edits.ts';
import type { GroundCache, GroundState } from '../ground.ts';
import { documentOf } from '../history.ts';
import type { ForecastKeeper } from '../keeper/keeper.ts';
import type { Option, OptionAsked, OptionState, Planner } from '../types.ts';
import { besides, type Trial, type WhatIfs } from './what-if.ts';

const say = problemTexts.edits.option;

/** A sheet waits so long for its options before it shows what is there. */
const LONGEST_WAIT = 1_000;

interface OptionParts {
  readonly store: Store;
  readonly ground: GroundCache;
  readonly whatIfs: WhatIfs;
  readonly keeper: Pick<ForecastKeeper, 'known'>;
  readonly edit: Planner['edit'];
  readonly stamp: () => string;
  readonly changed: (id: string) => void;
}

type Options = Pick<Planner, 'options' | 'optionNames' | 'whatIf' | 'keepOption' | 'adoptOption' | 'dropOption'>;

/** Keeps options in the store and tries them out. */
export function createOptions({ store, ground, keeper, whatIfs, edit, stamp, changed }: OptionParts): Options {
  const rowsOf = (id: string): OptionRow[] => {
    const state = ground.get(id);
    return state ? store.options.of(state.key) : [];
  };

  const whatIf: Options['whatIf'] = async (id, changes, expected, entries = []) => {
    const state = ground.get(id);
    if (!state) return refused(problem('unknown-name', 'build', id, problemTexts.edits.noBuild(id)));
    if (state.closed !== null) return refused(closedProblem(state.build, state.closed));
    if (state.version.revision !== expected) return changedMeanwhile(store, state, expected);
    const made = applyChanges(state.build, changes);
    if (!made.ok) return made;
    const isSame = changesBetween(state.build, made.value).length === 0;
    const seen = await whatIfs.now(state, isSame ? state.build : made.value, entries);
    const added = newErrors(seen.forecast, seen.present);
    return added.length > 0 ? { ok: false, problems: added } : { ok: true, value: seen };
  };

  const keepOption: Options['keepOption'] = (id, asked) => {
    const state = ground.get(id);
    if (!state) return refused(problem('unknown-name', 'build', id, problemTexts.edits.noBuild(id)));
    if (state.closed !== null) return refused(closedProblem(state.build, state.closed));
    const { revision } = state.version;
    if (revision !== asked.expected) return changedMeanwhile(store, state, asked.expected);
    const kept = store.together((): Result<{ number: number }> => {
      const rows = store.options.of(state.key);
      const into = asked.into === undefined ? undefined : rows.find(({ number }) => number === asked.into);
      if (asked.into !== undefined && into === undefined) return refused(wrongName('gone', asked.into, say.gone));
      const wrong = into === undefined ? wrongOption(asked.name.trim(), rows) : null;
      if (wrong !== null) return refused(wrong);
      const changes = changesKept(state.build, asked, into);
      if (!changes.ok) return changes;
      const name = into?.name ?? asked.name.trim();
      const option = { name, revision, changes: changes.value, savedAt: stamp(), who: asked.who };
      if (into === undefined) return { ok: true, value: { number: store.options.add(state.key, id, option) } };
      store.options.change(state.key, id, into.number, option);
      return { ok: true, value: { number: into.number } };
    });
    if (kept.ok) changed(id);
    return kept;
  };

  const adoptOption: Options['adoptOption'] = async (id, number, who, expected) => {
    const option = rowsOf(id).find((it) => it.number === number);
    if (option === undefined) return refused(wrongName('gone', number, say.gone));
    const state = ground.get(id)!;
    const before = state.version.revision;
    const lost = lostThings(store, state, option);
    if (lost.length > 0) return { ok: false, problems: lost };
    const adopted = await edit(id, option.changes, who, expected, { code: 'option', name: option.name });
    if (!adopted.ok) return adopted;
    if (adopted.value.revision === before)
      return refused(problem('conflict', 'option', number, say.isPlan(option.name)));
    dropOption(id, number);
    return adopted;
  };

  const dropOption: Options['dropOption'] = (id, number) => {
    const state = ground.get(id);
    const dropped = state?.closed === null ? store.options.drop(state.key, number) : false;
    if (dropped) changed(id);
    return dropped;
  };

  return {
    whatIf,
    keepOption,
    adoptOption,
    dropOption,
    optionNames: (id) => rowsOf(id).map(({ number, name }) => ({ number, name })),
    options: async (id, longest = LONGEST_WAIT) => {
      const state = ground.get(id);
      if (!state) return { present: null, options: [] };
      const rows = store.options.of(state.key);
      if (rows.length === 0) return { present: null, options: [] };
      const present = whatIfs.trial(state, state.build);
      const tried = rows
        .map((row) => ({ row, made: madeOf(store, state, row) }))
        .map(({ row, made }) => ({
          row,
          made,
          trial: made.ok ? whatIfs.trial(state, made.value) : null,
        }));
      await atMost(longest, [present, ...tried.flatMap(({ trial }) => trial ?? [])]);
      const known = keeper.known(state);
      return {
        present: present.tried && besides(present.tried, present.tried, known).present,
        options: tried.map(({ row, made, trial }) =>
          optionOf(store, state, row, made, stateOf(present, made, trial, known)),
        ),
      };
    },
  };
}

/**
 * The changes to keep: those that are asked for, or these made on top of what is kept. They speak of the build as it
 * is.
 */
function changesKept(build: Build, { changes }: OptionAsked, into?: OptionRow): Result<readonly Change[]> {
  const before = into === undefined ? ({ ok: true, value: build } as const) : applyChanges(build, into.changes);
  const made = before.ok ? applyChanges(before.value, changes) : before;
  if (!made.ok) return made;
  const all = changesBetween(build, made.value);
  if (all.length === 0) return refused(problem('shape', 'option', '', say.nothing));
  return { ok: true, value: into === undefined ? changes : all };
}

function wrongOption(name: string, rows: readonly OptionRow[]): Problem | null {
  if (name === '') return wrongName('shape', name, say.noName);
  if (name.length > LONGEST_OPTION_NAME)
    return wrongName('too-large', name, say.longName(name.length, LONGEST_OPTION_NAME));
  const same = rows.find((row) => row.name.toLowerCase() === name.toLowerCase());
  if (same !== undefined) return wrongName('duplicate-id', name, say.taken(same.name));
  return rows.length < MOST_OPTIONS ? null : wrongName('conflict', name, say.tooMany(MOST_OPTIONS));
}

function wrongName(code: Problem['code'], value: unknown, message: string): Problem {
  return problem(code, 'option', value, message);
}

function madeOf(store: Store, state: GroundState, row: OptionRow): Result<Build> {
  const lost = lostThings(store, state, row);
  return lost.length > 0 ? { ok: false, problems: lost } : applyChanges(state.build, row.changes);
}

/** What an option changes that is not there any more, by the names that it had when the option was made. */
function lostThings(store: Store, state: GroundState, { name, revision, changes }: OptionRow): Problem[] {
  const then = documentOf(store, state, revision);
  const lost = changes.flatMap((change): string[] => {
    if (change.list === 'build' || change.kind === 'put' || thingAt(state.build, change.list, change.key)) return [];
    const thing = then && thingAt(then, change.list, change.key);
    return [say.thing(change.list, thing ? thingName(change.list, thing) : change.key)];
  });
  return [...new Set(lost)].map((what) => problem('gone', 'option', name, say.isGone(name, what)));
}

function stateOf(present: Trial, made: Result<Build>, trial: Trial | null, known: Forecast | null): OptionState {
  if (!made.ok) return { kind: 'misfit', problems: made.problems };
  if (trial?.failed || present.failed) return { kind: 'failed' };
  if (!trial?.tried || !present.tried) return { kind: 'waits' };
  const problems = newErrors(trial.tried.forecast, present.tried.forecast);
  if (problems.length > 0) return { kind: 'impossible', problems };
  return { kind: 'tried', ...besides(present.tried, trial.tried, known) };
}

function optionOf(
  store: Store,
  state: GroundState,
  row: OptionRow,
  made: Result<Build>,
  optionState: OptionState,
): Option {
  const { number, name, savedAt, who } = row;
  return { number, name, savedAt, who, edit: editOf(store, state, row, made), state: optionState };
}

function editOf(store: Store, state: GroundState, { revision, changes }: OptionRow, made: Result<Build>): Edit {
  if (made.ok) return { before: state.build, after: made.value, changes };
  const then = documentOf(store, state, revision) ?? state.build;
  const after = applyChanges(then, changes);
  return { before: then, after: after.ok ? after.value : then, changes };
}

/** Until all are tried out, or the time is over. */
async function atMost(milliseconds: number, trials: readonly Trial[]): Promise<void> {
  let timer: NodeJS.Timeout | undefined;
  const over = new Promise<void>((resolve) => {
    timer = setTimeout(resolve, milliseconds);
  });
  await Promise.race([Promise.all(trials.map(({ done }) => done)), over]);
  clearTimeout(timer);
}

function refused(wrong: Problem): Result<never> {
  return { ok: false, problems: [wrong] };
}
