/** One thing of a build: finding it, checking a new form of it, and the edit that puts it there, moves it or takes it out. */

import { FIELDS } from '../../views/forms/fields.ts';
import { texts } from '../../views/texts/index.ts';
import type { EditList, FormValues } from '../../views/types.ts';
import {
  type Build,
  checkDecision,
  checkFeed,
  checkGate,
  checkMachine,
  checkParameter,
  checkPart,
  checkPerson,
  checkStep,
  checkSupplier,
  type Problem,
  problem,
  type Result,
} from '../model/index.ts';
import { type Thing, thingFromForm } from './form-text.ts';

const say = texts.edit;

const CHECKS: Readonly<Record<EditList, (value: unknown) => Result<unknown>>> = {
  parameters: checkParameter,
  parts: checkPart,
  suppliers: checkSupplier,
  people: checkPerson,
  machines: checkMachine,
  steps: checkStep,
  feeds: checkFeed,
  gates: checkGate,
  decisions: checkDecision,
};

/** The thing a form is about, or null where it is gone. Parameters go by name, feeds by their place, the rest by id. */
export function findThing(build: Build, list: EditList | 'build', key: string): Thing | null {
  if (list === 'build') return build;
  const things = listOf(build, list);
  return things[placeOf(things, list, key)] ?? null;
}

/** What a thing is called in a sentence. */
export function nameOf(list: EditList | 'build', thing: Thing): string {
  if (list === 'feeds') return `${thing.from} → ${thing.to}`;
  return String(thing.name ?? thing.question ?? thing.id ?? '');
}

/**
 * The thing that a form stands for, checked. A new thing without a short name gets one made from its name that is not
 * taken yet; a changed one keeps the name that others refer to it by.
 */
export function thingOf(build: Build, list: EditList, key: string | null, values: FormValues): Result<Thing> {
  const read = thingFromForm(list, values);
  const { named, taken } = withKey(build, list, key, read);
  if (taken !== null) {
    const message = say.taken(say.thing[list], taken);
    return { ok: false, problems: [problem('duplicate-id', `${list}.${keyField(list)}`, taken, message)] };
  }
  const checked = CHECKS[list](named) as Result<Thing>;
  return checked.ok || 'id' in named ? checked : { ok: false, problems: withoutShortName(checked.problems, list) };
}

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
  if (key !== null) return { named: { [field]: key, ...read }, taken: null };
  const keys = new Set(listOf(build, list).map((it) => String(it[field])));
  const typed = read[field];
  if (typeof typed === 'string') return { named: read, taken: keys.has(typed) ? typed : null };
  if (list === 'parameters') return { named: read, taken: null };
  const made = freeId(String(read.name ?? read.question ?? ''), keys);
  return { named: made === null ? read : { id: made, ...read }, taken: null };
}

function keyField(list: EditList): 'id' | 'name' {
  return list === 'parameters' ? 'name' : 'id';
}

/** A short name made from a long one, `-2` and so on where it is taken: "Press bushings" is `press-bushings`. Null for no name. */
export function freeId(name: string, taken: ReadonlySet<string>): string | null {
  if (name === '') return null;
  const base =
    name
      .normalize('NFKD')
      .toLowerCase()
      .replace(/[\u0300-\u036f]/g, '')
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-+|-+$/g, '')
      .slice(0, 50)
      .replace(/-+$/, '') || 'item';
  let id = base;
  for (let n = 2; taken.has(id); n++) id = `${base}-${n}`;
  return id;
}

/** Puts a thing in its place, or at the end where it is new. */
export function putThing(build: Build, list: EditList, key: string | null, thing: Thing): void {
  const things = mutableList(build, list);
  const at = key === null ? -1 : placeOf(things, list, key);
  if (at < 0) things.push(thing);
  else things[at] = thing;
}

export function removeThing(build: Build, list: EditList, key: string): void {
  const things = mutableList(build, list);
  const at = placeOf(things, list, key);
  if (at >= 0) things.splice(at, 1);
}

/** One place up (-1) or down (+1); at the ends nothing moves. */
export function moveThing(build: Build, list: EditList, key: string, by: -1 | 1): void {
  const things = mutableList(build, list);
  const at = placeOf(things, list, key);
  const to = at + by;
  if (at < 0 || to < 0 || to >= things.length) return;
  [things[at], things[to]] = [things[to]!, things[at]!];
}

/** Puts the build's own fields in place; its lists stay as they are. */
export function putBuildFields(build: Build, values: FormValues): void {
  const read = thingFromForm('build', values);
  for (const { key } of FIELDS.build) delete (build as Record<string, unknown>)[key.split('.')[0]!];
  Object.assign(build, read);
}

function listOf(build: Build, list: EditList): readonly Thing[] {
  return (build[list] ?? []) as readonly Thing[];
}

function mutableList(build: Build, list: EditList): Thing[] {
  build[list] ??= [] as never;
  return build[list] as Thing[];
}

function placeOf(things: readonly Thing[], list: EditList, key: string): number {
  if (list === 'feeds') return /^\d{1,6}$/.test(key) && Number(key) < things.length ? Number(key) : -1;
  return things.findIndex((it) => it[keyField(list)] === key);
}
