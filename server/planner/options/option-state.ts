/** What is shown of a kept option: what it changes, and what became of trying it out. */
import {
  applyChanges,
  type Build,
  type Edit,
  type Forecast,
  type Problem,
  problem,
  problemTexts,
  type Result,
  type Sentence,
  thingAt,
  thingName,
} from '../../model/index.ts';
import type { OptionRow, Store } from '../../store/index.ts';
import { newErrors } from '../edits/new-errors.ts';
import type { GroundState } from '../ground.ts';
import { documentOf } from '../history.ts';
import type { Option, OptionState } from '../types.ts';
import { besides, type Trial } from './what-if.ts';

const say = problemTexts.edits.option;

/** An option of a state of the build, with the build as it makes it and the trial of that, if it can be made. */
interface Tried {
  readonly row: OptionRow;
  readonly made: Result<Build>;
  readonly trial: Trial | null;
}

/** The build as it is, tried out, and what is known of it from its many futures. */
interface Present {
  readonly present: Trial;
  readonly known: Forecast | null;
}

/** The option as the sheet shows it, beside the build as it is. */
export function optionOf(store: Store, state: GroundState, beside: Present, { row, made, trial }: Tried): Option {
  const { number, name, savedAt, who } = row;
  return { number, name, savedAt, who, edit: editOf(store, state, row, made), state: stateOf(beside, made, trial) };
}

/** The build with an option's changes, or what it changes that is gone. */
export function madeOf(store: Store, state: GroundState, row: OptionRow): Result<Build> {
  const lost = lostThings(store, state, row);
  return lost.length > 0 ? { ok: false, problems: lost } : applyChanges(state.build, row.changes);
}

/** What an option changes that is not there any more, by the names that it had when the option was made. */
export function lostThings(store: Store, state: GroundState, { name, revision, changes }: OptionRow): Problem[] {
  const then = documentOf(store, state, revision);
  const lost = changes.flatMap((change): Sentence[] => {
    if (change.list === 'build' || change.kind === 'put' || thingAt(state.build, change.list, change.key)) return [];
    const thing = then && thingAt(then, change.list, change.key);
    return [say.thing(change.list, thing ? thingName(change.list, thing) : change.key)];
  });
  const each = new Map(lost.map((what) => [JSON.stringify(what), what]));
  return [...each.values()].map((what) => problem('gone', 'option', name, say.isGone(name, what)));
}

function stateOf({ present, known }: Present, made: Result<Build>, trial: Trial | null): OptionState {
  if (!made.ok) return { kind: 'misfit', problems: made.problems };
  if (trial?.failed || present.failed) return { kind: 'failed' };
  if (!trial?.tried || !present.tried) return { kind: 'waits' };
  const problems = newErrors(trial.tried.forecast, present.tried.forecast);
  if (problems.length > 0) return { kind: 'impossible', problems };
  return { kind: 'tried', ...besides(present.tried, trial.tried, known) };
}

function editOf(store: Store, state: GroundState, { revision, changes }: OptionRow, made: Result<Build>): Edit {
  if (made.ok) return { before: state.build, after: made.value, changes };
  const then = documentOf(store, state, revision) ?? state.build;
  const after = applyChanges(then, changes);
  return { before: then, after: after.ok ? after.value : then, changes };
}
