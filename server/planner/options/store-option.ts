/** Keeps an option: its changes under a name of its own, or put into one that is there. */
import {
  applyChanges,
  type Build,
  type Change,
  changesBetween,
  LONGEST_OPTION_NAME,
  MOST_OPTIONS,
  type Problem,
  problem,
  problemTexts,
  type Result,
  type Sentence,
} from '../../model/index.ts';
import type { OptionRow, Store } from '../../store/index.ts';
import type { GroundState } from '../ground.ts';
import { refused } from '../refusals.ts';
import type { OptionAsked } from '../types.ts';

const say = problemTexts.edits.option;

/** Keeps what was asked on the state of a build, in a transaction of the store; gives the number of the option. */
export function storeOption(
  store: Store,
  state: GroundState,
  asked: OptionAsked,
  savedAt: string,
): Result<{ readonly number: number }> {
  const { id } = state.build;
  const rows = store.options.of(state.key);
  const into = asked.into === undefined ? undefined : rows.find(({ number }) => number === asked.into);
  if (asked.into !== undefined && into === undefined) return refused(noOption(asked.into));
  const wrong = into === undefined ? wrongOption(asked.name.trim(), rows) : null;
  if (wrong !== null) return refused(wrong);
  const changes = changesKept(state.build, asked, into);
  if (!changes.ok) return changes;
  const name = into?.name ?? asked.name.trim();
  const option = { name, revision: state.version.revision, changes: changes.value, savedAt, who: asked.who };
  if (into === undefined) return { ok: true, value: { number: store.options.add(state.key, id, option) } };
  store.options.change(state.key, id, into.number, option);
  return { ok: true, value: { number: into.number } };
}

/** The build has no option of this number. */
export function noOption(number: number): Problem {
  return wrongName('gone', number, say.gone);
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

function wrongName(code: Problem['code'], value: unknown, what: Sentence): Problem {
  return problem(code, 'option', value, what);
}
