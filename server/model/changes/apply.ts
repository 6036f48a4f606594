/** Changes applied to a build: the new build, or what keeps them from being made. */
import type { Build } from '../build.ts';
import { checkBuild } from '../check.ts';
import { type Problem, problem, type Result } from '../problem.ts';
import { problemTexts } from '../texts/index.ts';
import type { Change } from './change.ts';
import { contradictionsIn, fieldOf } from './contradictions.ts';
import { withRenamed } from './formulas.ts';
import {
  checkThing,
  fieldsOf,
  fixedFields,
  keysOf,
  ownKey,
  THING_LISTS,
  type Thing,
  type ThingList,
  thingsOf,
} from './lists.ts';

const say = problemTexts.changes;

/**
 * The build after all `changes`, or the problems that keep them from being made; `build` itself is never touched.
 *
 * Every change speaks of the build as it was before the list: it names a thing by the key that it had then, even where
 * the same list renames it. So the order of the list does not matter, but for places: new and moved things take theirs
 * one after the other, in the order of the list. Formulas are renamed last, those that the list sets too.
 *
 * Refused, with nothing changed: a change to a thing that is gone (`gone`), a new thing whose key is taken
 * (`duplicate-id`), a list or a field that a build does not have (`unknown-name`), a field by which others refer to the
 * thing (`conflict`), two changes that contradict each other (`contradiction`), and whatever is no build any more
 * afterwards (as `checkBuild` says). Costs one walk over the build and the changes.
 *
 *     applyChanges({ steps: [] }, [{ kind: 'remove', list: 'parts', key: 'hook' }]).problems[0].code // 'gone'
 *     applyChanges({ steps: [] }, []).value // { steps: [] }
 */
export function applyChanges(build: Build, changes: readonly Change[]): Result<Build> {
  if (changes.length === 0) return { ok: true, value: build };
  // As they are stored: without keys that hold nothing.
  const told = JSON.parse(JSON.stringify(changes)) as Change[];
  const before = keyedLists(build);
  const problems = [...told.flatMap((change) => wrongWith(change, before)), ...contradictionsIn(told)];
  if (problems.length > 0) return { ok: false, problems };
  const places = placed(before, told);
  if (!places.ok) return places;
  const draft = withLists(withOwnFields(build, told), build, places.value);
  return renamed(checkBuild(draft), told);
}

type Keyed = Map<string, Thing>;
type KeyedLists = Readonly<Record<ThingList, Keyed>>;

function keyedLists(build: Build): KeyedLists {
  const keyed = THING_LISTS.map((list) => {
    const things = thingsOf(build, list);
    return [list, new Map(keysOf(list, things).map((key, i) => [key, things[i]!]))];
  });
  return Object.fromEntries(keyed) as KeyedLists;
}

function wrongWith(change: Change, before: KeyedLists): Problem[] {
  if (change.list === 'build') return wrongField(change, '');
  const there = before[change.list].has(change.key);
  if (change.kind === 'put') return wrongNew(change, there);
  if (!there) return [problem('gone', `${change.list}.${change.key}`, change.key, say.gone(change.list, change.key))];
  return change.kind === 'set' ? wrongField(change, change.key) : [];
}

function wrongField(change: Change & { kind: 'set' }, key: string): Problem[] {
  const { list, field } = change;
  const known = fieldsOf(list);
  const fixed = fixedFields(list);
  if (!known.includes(field)) {
    const settable = known.filter((name) => !fixed.includes(name)).join(', ');
    return [problem('unknown-name', fieldOf(change), field, say.field(list, field, settable))];
  }
  return fixed.includes(field)
    ? [problem('conflict', fieldOf(change), change.value ?? 'nothing', say.fixed(list, key, field))]
    : [];
}

function wrongNew(change: Change & { kind: 'put' }, there: boolean): Problem[] {
  const { list, key, thing } = change;
  const field = fieldOf(change);
  if (there) return [problem('duplicate-id', field, key, say.there(list, key))];
  const checked = checkThing(list, thing);
  if (!checked.ok) return [...checked.problems];
  const own = ownKey(list, thing);
  return own === key.replace(/#\d+$/, '') ? [] : [problem('conflict', field, key, say.otherKey(list, key, own))];
}

/** The things of each list by their keys of before, changed and in their new order. */
function placed(before: KeyedLists, changes: readonly Change[]): Result<KeyedLists> {
  const problems: Problem[] = [];
  const lists = THING_LISTS.map((list) => {
    const own = changes.filter((change) => change.list === list);
    return [list, own.length === 0 ? before[list] : changedList(before[list], own, problems)];
  });
  return problems.length > 0 ? { ok: false, problems } : { ok: true, value: Object.fromEntries(lists) as KeyedLists };
}

function changedList(before: Keyed, changes: readonly Change[], problems: Problem[]): Keyed {
  const things = new Map(before);
  for (const change of changes) {
    if (change.kind === 'remove') things.delete(change.key);
    if (change.kind === 'set' && change.list !== 'build') {
      things.set(change.key, withField(things.get(change.key)!, change));
    }
  }
  let order = [...things.keys()];
  for (const change of changes) {
    if (change.kind !== 'put' && change.kind !== 'move') continue;
    if (change.kind === 'put') things.set(change.key, change.thing);
    const rest = order.filter((key) => key !== change.key);
    const at = placeIn(rest, change);
    if (at === null) problems.push(noPlace(change));
    else order = [...rest.slice(0, at), change.key, ...rest.slice(at)];
  }
  return new Map(order.map((key) => [key, things.get(key)!]));
}

function placeIn(order: readonly string[], { after }: Change & { kind: 'put' | 'move' }): number | null {
  if (after === null) return 0;
  if (after === undefined) return order.length;
  const at = order.indexOf(after);
  return at < 0 ? null : at + 1;
}

function noPlace(change: Change & { kind: 'put' | 'move' }): Problem {
  const after = change.after!;
  return problem('gone', fieldOf(change), after, say.noPlace(change.list, change.key, after));
}

function withOwnFields(build: Build, changes: readonly Change[]): Thing {
  const own = changes.filter((change) => change.kind === 'set' && change.list === 'build');
  return own.reduce<Thing>((thing, change) => withField(thing, change as Change & { kind: 'set' }), build);
}

function withField(thing: Thing, { field, value }: Change & { kind: 'set' }): Thing {
  const { [field]: _, ...rest } = thing;
  return value === undefined ? rest : { ...thing, [field]: value };
}

function withLists(draft: Thing, build: Build, lists: KeyedLists): unknown {
  const changed = THING_LISTS.filter((list) => build[list] !== undefined || lists[list].size > 0);
  return { ...draft, ...Object.fromEntries(changed.map((list) => [list, [...lists[list].values()]])) };
}

function renamed(checked: Result<Build>, changes: readonly Change[]): Result<Build> {
  const renames = changes.filter((change) => change.kind === 'rename');
  if (!checked.ok || renames.length === 0) return checked;
  const names = new Map(renames.map(({ key, to }) => [key, to]));
  const left = new Set(keysOf('parameters', thingsOf(checked.value, 'parameters')).filter((key) => !names.has(key)));
  const problems: Problem[] = [];
  for (const change of renames) {
    if (left.has(change.to)) {
      problems.push(problem('duplicate-id', fieldOf(change), change.to, say.there('parameters', change.to)));
    }
    left.add(change.to);
  }
  return problems.length > 0 ? { ok: false, problems } : checkBuild(withRenamed(checked.value, names));
}
