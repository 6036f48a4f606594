/**
 * One thing of a build: finding it, checking a new form of it, and the edit that puts it there, moves it or takes it
 * out.
 */

import { FIELDS, LAST_PLACE } from '../../../views/forms/fields.ts';
import { texts } from '../../../views/texts/index.ts';
import type { EditList, FormValues } from '../../../views/types.ts';
import {
  type Build,
  type Change,
  changesBetween,
  checkThing,
  fieldChanges,
  fixedFields,
  freeId,
  keysOf,
  ownKey,
  type Problem,
  type Result,
  type Thing,
  thingsOf,
  withKnownNames,
  wordedProblem,
} from '../../model/index.ts';
import { thingFromForm } from './form-text.ts';

const say = texts.edit;

/**
 * The thing a form is about, with the key that changes name it by; null where it is gone. An address names a feed by
 * its place, any other thing by its key.
 */
export function findThing(
  build: Build,
  list: EditList,
  named: string,
): { readonly key: string; readonly thing: Thing } | null {
  const things = thingsOf(build, list);
  const keys = keysOf(list, things);
  const at = list === 'feeds' ? (/^\d{1,6}$/.test(named) ? Number(named) : -1) : keys.indexOf(named);
  const thing = things[at];
  return thing === undefined ? null : { key: keys[at]!, thing };
}

/** What a form asks for when it is saved: the changes, and the key that the thing has after them. */
export interface FormChanges {
  readonly changes: readonly Change[];
  readonly key: string;
}

/** The changes that the text in a form asks for; `key` null: of a new thing. */
export function savedChanges(
  build: Build,
  list: EditList,
  key: string | null,
  values: FormValues,
): Result<FormChanges> {
  const made = thingOf(build, list, key, values);
  if (!made.ok) return made;
  const before = findThing(build, list, key ?? '')?.thing ?? {};
  const thing = lookedAt(before, stillDenied(before, made.value));
  if (key === null) {
    const own = keysOf(list, [...thingsOf(build, list), thing]).at(-1)!;
    return { ok: true, value: { changes: [{ kind: 'put', list, key: own, thing }], key: own } };
  }
  return { ok: true, value: { changes: changesOfThing(build, list, key, thing), key: ownKey(list, thing) } };
}

/** A form with no hazard ticked leaves it said that there are none. */
function stillDenied(before: Thing, thing: Thing): Thing {
  const isDenied = Array.isArray(before.hazards) && before.hazards.length === 0;
  return isDenied && thing.hazards === undefined ? { ...thing, hazards: [] } : thing;
}

/** Hazards that somebody has changed are guessed no more. */
function lookedAt(before: Thing, { hazardsGuessed, ...thing }: Thing): Thing {
  const isSame = JSON.stringify(before.hazards) === JSON.stringify(thing.hazards);
  return hazardsGuessed === undefined || !isSame ? thing : { ...thing, hazardsGuessed };
}

/** The changes of the build's own fields; its lists stay as they are. */
export function savedBuild(build: Build, values: FormValues): readonly Change[] {
  const shown = new Set(FIELDS.build.map(({ key }) => key.split('.')[0]!));
  const rest = Object.entries(build).filter(([field]) => !shown.has(field));
  const read = withKnownNames('build', thingFromForm('build', values), namesOf(build));
  return changesBetween(build, { ...Object.fromEntries(rest), ...read } as Build);
}

/**
 * The move to the place that a form names: before another thing of the list, or to its end. None where it stays; a
 * problem where there is no such thing.
 */
export function placedChanges(build: Build, list: EditList, key: string, place: unknown): Result<readonly Change[]> {
  if (typeof place !== 'string' || place === '' || place === key) return { ok: true, value: [] };
  const keys = keysOf(list, thingsOf(build, list)).filter((one) => one !== key);
  const at = place === LAST_PLACE ? keys.length : keys.indexOf(place);
  if (at < 0) {
    return { ok: false, problems: [wordedProblem('unknown-name', 'place', place, texts.place.unknown(place))] };
  }
  return { ok: true, value: [{ kind: 'move', list, key, after: keys[at - 1] ?? null }] };
}

function changesOfThing(build: Build, list: EditList, key: string, thing: Thing): readonly Change[] {
  const things = thingsOf(build, list);
  const keys = keysOf(list, things);
  const at = keys.indexOf(key);
  const before = things[at]!;
  const fields = fieldChanges(list, key, before, thing);
  if (fixedFields(list).every((field) => before[field] === thing[field])) return fields;
  if (list === 'parameters') return [...fields, { kind: 'rename', list, key, to: String(thing.name) }];
  // A feed between other steps is another feed, in the same place.
  const own = keysOf(list, [...things.filter((_, i) => i !== at), thing]).at(-1)!;
  const after = keys[at - 1] ?? null;
  return own === key
    ? fields
    : [
        { kind: 'remove', list, key },
        { kind: 'put', list, key: own, thing, after },
      ];
}

/**
 * The thing that a form stands for, checked. A new thing without a short name gets one made from its name that is not
 * taken yet; a changed one keeps its short name, but a parameter may be given another name.
 */
function thingOf(build: Build, list: EditList, key: string | null, values: FormValues): Result<Thing> {
  const read = {
    ...notInForms(list, key === null ? null : findThing(build, list, key)),
    ...withWayIds(namedThing(build, list, thingFromForm(list, values))),
  };
  const { named, taken } = withKey(build, list, key, read);
  if (taken !== null) {
    const message = say.taken(say.thing[list], taken);
    return { ok: false, problems: [wordedProblem('duplicate-id', `${list}.${keyField(list)}`, taken, message)] };
  }
  const checked = checkThing(list, named);
  return checked.ok || 'id' in named ? checked : { ok: false, problems: withoutShortName(checked.problems, list) };
}

/**
 * The thing with names of parameters as the build has them: `drums per bough` is `drums_per_bough`, as the name of a
 * parameter and in every formula.
 */
function namedThing(build: Build, list: EditList, read: Thing): Thing {
  const named =
    list === 'parameters' && typeof read.name === 'string' ? { ...read, name: parameterName(read.name) } : read;
  return withKnownNames(list, named, namesOf(build));
}

function parameterName(typed: string): string {
  return typed.trim().replace(/[\s-]+/g, '_');
}

function namesOf({ parameters = [] }: Build): string[] {
  return parameters.map(({ name }) => name);
}

/** Ways without a short name get one made from their name. */
function withWayIds(read: Thing): Thing {
  if (!Array.isArray(read.ways)) return read;
  const taken = new Set(read.ways.flatMap(({ id }) => id ?? []).map(String));
  const ways = read.ways.map((way: Thing) => {
    const id = way.id ?? freeId(String(way.name ?? ''), taken);
    if (id === null) return way;
    taken.add(String(id));
    return { id, ...way };
  });
  return { ...read, ways };
}

/** What a thing holds that no form shows: it stays as it is. */
function notInForms(list: EditList, found: ReturnType<typeof findThing>): Thing {
  const shown = new Set(
    FIELDS[list].flatMap(({ key, kind }) => (kind === 'quantity' ? QUANTITY : [key.split('.')[0]!])),
  );
  const unshown = Object.entries(found?.thing ?? {}).filter(
    ([field]) => !shown.has(field) && !fixedFields(list).includes(field),
  );
  return Object.fromEntries(unshown);
}

const QUANTITY = ['value', 'formula', 'range'];

/** A short name is made from the name: where that is missing, it alone is asked for. */
function withoutShortName(problems: readonly Problem[], list: EditList): readonly Problem[] {
  return problems.filter(({ field }) => field !== `${list}.id`);
}

function withKey(
  build: Build,
  list: EditList,
  key: string | null,
  read: Thing,
): { named: Thing; taken: string | null } {
  if (list === 'feeds') return { named: read, taken: null };
  const field = keyField(list);
  const keys = new Set(thingsOf(build, list).map((it) => String(it[field])));
  if (key !== null) {
    const named = { [field]: findThing(build, list, key)?.thing[field] ?? key, ...read };
    const taken = named[field] !== key && keys.has(String(named[field])) ? String(named[field]) : null;
    return { named, taken };
  }
  const typed = read[field];
  if (typeof typed === 'string') return { named: read, taken: keys.has(typed) ? typed : null };
  if (list === 'parameters') return { named: read, taken: null };
  const made = freeId(String(read.name ?? read.question ?? ''), keys);
  return { named: made === null ? read : { id: made, ...read }, taken: null };
}

function keyField(list: EditList): 'id' | 'name' {
  return list === 'parameters' ? 'name' : 'id';
}
