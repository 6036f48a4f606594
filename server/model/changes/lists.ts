/** The lists of a build whose things are changed one at a time, and the keys that things go by. */
import type { TObject, TSchema } from 'typebox';
import { Build } from '../build.ts';
import {
  checkBox,
  checkDecision,
  checkFeed,
  checkGate,
  checkLimit,
  checkMachine,
  checkParameter,
  checkPart,
  checkPassage,
  checkPerson,
  checkPoint,
  checkStep,
  checkStrikeJob,
  checkSupplier,
} from '../check.ts';
import { Decision, Gate } from '../gate.ts';
import { Machine, Person } from '../hands.ts';
import { Limit, Parameter } from '../parameter.ts';
import { Part } from '../part.ts';
import type { Result } from '../problem.ts';
import { Box, Passage, Point, StrikeJob } from '../show.ts';
import { Feed, Step } from '../step.ts';
import { Supplier } from '../supplier.ts';

export const THING_LISTS = [
  'parameters',
  'limits',
  'parts',
  'suppliers',
  'people',
  'machines',
  'steps',
  'feeds',
  'gates',
  'decisions',
  'boxes',
  'passages',
  'points',
  'strike',
] as const;
export type ThingList = (typeof THING_LISTS)[number];

/** A parameter, a part, a step …, by the names of its fields. */
export type Thing = Readonly<Record<string, unknown>>;

/** Checks a thing of a list by the list's own schema. Problems name its fields as `parts.hook.count`. */
export function checkThing(list: ThingList, thing: unknown): Result<Thing> {
  return CHECKS[list](thing) as Result<Thing>;
}

/** The names of the fields that a thing of the list may have, in the order of its schema. */
export function fieldsOf(list: ThingList | 'build'): readonly string[] {
  return FIELD_NAMES[list];
}

/** What nothing but a new thing may say: the names that others refer to it by. */
export function fixedFields(list: ThingList | 'build'): readonly string[] {
  return list === 'feeds' ? ['from', 'to'] : [list === 'parameters' ? 'name' : 'id'];
}

/** The things of a list, in the maker's order; none where the build has no such list. */
export function thingsOf(build: Build, list: ThingList): readonly Thing[] {
  return (build[list] ?? []) as readonly Thing[];
}

/**
 * The key of each thing of a list, in its order: the name of a parameter, `from>to` of a feed, the id of anything else.
 * Where several share one, the second is `cut#2`, the third `cut#3`.
 *
 * @example keysOf('steps', [{ id: 'cut' }, { id: 'glue' }, { id: 'cut' }]) // ['cut', 'glue', 'cut#2']
 */
export function keysOf(list: ThingList, things: readonly Thing[]): string[] {
  const seen = new Map<string, number>();
  return things.map((thing) => {
    const key = ownKey(list, thing);
    const nth = (seen.get(key) ?? 0) + 1;
    seen.set(key, nth);
    return nth === 1 ? key : `${key}#${nth}`;
  });
}

/** The key that a thing has where no other shares it. */
export function ownKey(list: ThingList, thing: Thing): string {
  return list === 'feeds' ? `${thing.from}>${thing.to}` : String(thing[fixedFields(list)[0]!]);
}

/** The thing of that key, or null where there is none. */
export function thingAt(build: Build, list: ThingList, key: string): Thing | null {
  const things = thingsOf(build, list);
  return things[keysOf(list, things).indexOf(key)] ?? null;
}

/** What a person calls a thing: its name, a decision by its question, a feed by the steps that it joins. */
export function thingName(list: ThingList, thing: Thing): string {
  if (list === 'feeds') return `${thing.from} → ${thing.to}`;
  return String(thing.name ?? thing.question ?? thing.id ?? '');
}

const CHECKS: Readonly<Record<ThingList, (value: unknown) => Result<unknown>>> = {
  parameters: checkParameter,
  limits: checkLimit,
  parts: checkPart,
  suppliers: checkSupplier,
  people: checkPerson,
  machines: checkMachine,
  steps: checkStep,
  feeds: checkFeed,
  gates: checkGate,
  decisions: checkDecision,
  boxes: checkBox,
  passages: checkPassage,
  points: checkPoint,
  strike: checkStrikeJob,
};

const OWN_FIELDS = namesOf(Build).filter((name) => !(THING_LISTS as readonly string[]).includes(name));

const FIELD_NAMES: Readonly<Record<ThingList | 'build', readonly string[]>> = {
  build: OWN_FIELDS,
  parameters: namesOf(Parameter),
  limits: namesOf(Limit),
  parts: namesOf(Part),
  suppliers: namesOf(Supplier),
  people: namesOf(Person),
  machines: namesOf(Machine),
  steps: namesOf(Step),
  feeds: namesOf(Feed),
  gates: namesOf(Gate),
  decisions: namesOf(Decision),
  boxes: namesOf(Box),
  passages: namesOf(Passage),
  points: namesOf(Point),
  strike: namesOf(StrikeJob),
};

function namesOf(schema: TObject<Record<string, TSchema>>): string[] {
  return Object.keys(schema.properties);
}
