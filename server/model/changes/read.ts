/** A list of changes read from outside: from a file, a request or the store. */
import { FILE_VERSION } from '../build.ts';
import { checker } from '../check.ts';
import { jsonOf, type Problem, problem, type Result } from '../problem.ts';
import { problemTexts } from '../texts/index.ts';
import type { Sentence } from '../texts/sentence.ts';
import { CHANGE_KINDS, type Change, ChangeList, Move, Put, Remove, Rename, SetField, SetOwn } from './change.ts';
import { THING_LISTS } from './lists.ts';

const say = problemTexts.changes;

/** Changes as they are stored and sent: with the build that they are for and the version whose fields they speak of. */
export function changeListOf(build: string, changes: readonly Change[]): ChangeList {
  return { format: 'daywright-changes', version: FILE_VERSION, build, changes: [...changes] };
}

/**
 * The changes of a list for the build with this id. Refused: what is no such list (`shape`), one of another version
 * (`version`) or for another build (`conflict`), a kind or a list that there is not (`unknown-name`). Whether they fit
 * the build as it is, `applyChanges` says.
 */
export function readChangeList(value: unknown, build: string): Result<readonly Change[]> {
  if (!isObject(value)) return refuse('shape', '', value, say.noList(jsonOf(value)));
  const { format, version } = value;
  if (format !== 'daywright-changes') return refuse('shape', 'format', format, say.format(worded(format)));
  if (version !== FILE_VERSION)
    return refuse('version', 'version', version, say.version(FILE_VERSION, worded(version)));
  if (Array.isArray(value.changes)) {
    const problems = value.changes.flatMap(wrongChange);
    if (problems.length > 0) return { ok: false, problems };
  }
  const checked = checkList(value);
  if (!checked.ok) return checked;
  if (checked.value.build !== build) {
    return refuse('conflict', 'build', checked.value.build, say.otherBuild(checked.value.build, build));
  }
  return { ok: true, value: checked.value.changes };
}

const checkList = checker(ChangeList, '');
const CHECKS = {
  put: checker(Put, ''),
  remove: checker(Remove, ''),
  move: checker(Move, ''),
  set: checker(SetField, ''),
  own: checker(SetOwn, ''),
  rename: checker(Rename, ''),
};

function wrongChange(change: unknown, at: number): Problem[] {
  const field = `changes.${at}`;
  if (!isObject(change)) return [problem('shape', field, change ?? 'nothing', say.noObject(jsonOf(change)))];
  const { kind, list } = change;
  const known = CHANGE_KINDS.find((it) => it === kind);
  if (known === undefined) {
    const message = say.kind(worded(kind), CHANGE_KINDS.join(', '));
    return [problem('unknown-name', `${field}.kind`, kind ?? 'nothing', message)];
  }
  const isOwn = known === 'set' && list === 'build';
  if (!isOwn && !(THING_LISTS as readonly unknown[]).includes(list)) {
    const message = say.list(worded(list), THING_LISTS.join(', '));
    return [problem('unknown-name', `${field}.list`, list ?? 'nothing', message)];
  }
  const checked = CHECKS[isOwn ? 'own' : known](change);
  return checked.ok ? [] : checked.problems.map((it) => ({ ...it, field: `${field}.${it.field}` }));
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function worded(value: unknown): string | Sentence {
  return value === undefined ? problemTexts.shape.noValue : jsonOf(value);
}

function refuse(code: Problem['code'], field: string, value: unknown, what: Sentence): Result<never> {
  return { ok: false, problems: [problem(code, field, value ?? 'nothing', what)] };
}
