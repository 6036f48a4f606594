/** The changes that take one edit back and leave what was edited after it. */
import { Equal } from 'typebox/value';
import type { Build } from '../build.ts';
import { type Problem, problem, type Result } from '../problem.ts';
import { problemTexts } from '../texts/index.ts';
import type { Sentence } from '../texts/sentence.ts';
import { changesBetween } from './between.ts';
import type { Change } from './change.ts';
import { contradictionsBetween } from './contradictions.ts';
import { withRenamed } from './formulas.ts';
import { keysOf, type ThingList, thingAt, thingName, thingsOf } from './lists.ts';

const say = problemTexts.changes;

/** An edit: the build before and after it, and the changes that led from the one to the other. */
export interface Edit {
  readonly before: Build;
  readonly after: Build;
  readonly changes: readonly Change[];
}

/**
 * The changes that take `edit` back in the build as it is now, which may have been edited since. What is as it was
 * before the edit already needs none. Refused (`contradiction`) where what the edit changed has been changed again
 * since, by the thing and the field; and (`gone`) where nothing is left to take back.
 */
export function changesBack(edit: Edit, present: Build): Result<readonly Change[]> {
  const back = reversed(edit).filter((change) => !isMade(change, present));
  if (back.length === 0) return { ok: false, problems: [problem('gone', 'revision', 'nothing', say.nothingLeft)] };
  const since = changesBetween(edit.after, present);
  const problems = contradictionsBetween(since, back).map((it) => changedSince(it, present));
  if (problems.length > 0) return { ok: false, problems };
  return { ok: true, value: back.map((change) => placedIn(change, back, edit.before, present)) };
}

/** From `after` to `before`; what the edit renamed is called back, also in formulas that were written since. */
function reversed({ before, after, changes }: Edit): Change[] {
  const names = new Map(changes.flatMap((it) => (it.kind === 'rename' ? [[it.to, it.key] as const] : [])));
  if (names.size === 0) return changesBetween(after, before);
  const now = new Map([...names].map(([to, key]) => [key, to]));
  const rest = changesBetween(withRenamed(after, names), before).map((change) =>
    change.list === 'parameters' ? { ...change, key: now.get(change.key) ?? change.key } : change,
  );
  return [
    ...[...names].map(([key, to]) => ({ kind: 'rename' as const, list: 'parameters' as const, key, to })),
    ...rest,
  ];
}

function isMade(change: Change, present: Build): boolean {
  if (change.list === 'build') return Equal(present[change.field as keyof Build], change.value);
  const thing = thingAt(present, change.list, change.key);
  switch (change.kind) {
    case 'remove':
      return thing === null;
    case 'put':
      return thing !== null && Equal(thing, change.thing);
    case 'set':
      return thing !== null && Equal(thing[change.field], change.value);
    case 'rename':
      return thing === null && thingAt(present, 'parameters', change.to) !== null;
    default:
      return false;
  }
}

function changedSince({ field, value }: Problem, present: Build): Problem {
  return problem('contradiction', field, value, say.changedSince(whatAt(field, present)));
}

/** A field of a problem in words: of `parts.hook.count` the count of the part “Hook”. */
function whatAt(field: string, present: Build): Sentence {
  const [list, key, name] = field.split('.') as [ThingList, string?, string?];
  if (key === undefined) return say.ofBuild(list);
  const thing = thingAt(present, list, key);
  const words = say.named(list, thing === null ? key : thingName(list, thing));
  return name === undefined ? words : say.of(name, words);
}

/** What stood before it then may be gone now: it comes after the nearest that is left of those before it. */
function placedIn(change: Change, back: readonly Change[], before: Build, present: Build): Change {
  if ((change.kind !== 'put' && change.kind !== 'move') || typeof change.after !== 'string') return change;
  const order = keysOf(change.list, thingsOf(before, change.list));
  const there = new Set(keysOf(change.list, thingsOf(present, change.list)));
  for (const it of back) if (it.kind === 'put' && it.list === change.list) there.add(it.key);
  const after = order.slice(0, order.indexOf(change.after) + 1).findLast((key) => there.has(key)) ?? null;
  return { ...change, after };
}
