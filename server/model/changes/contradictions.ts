/** Whether changes contradict each other: two of them that cannot both be true of the build that comes out. */
import { Equal } from 'typebox/value';
import { jsonOf, type Problem, problem } from '../problem.ts';
import { problemTexts } from '../texts/index.ts';
import type { Sentence } from '../texts/sentence.ts';
import type { Change } from './change.ts';
import type { ThingList } from './lists.ts';

const say = problemTexts.changes;

/**
 * What contradicts within one list of changes, each pair once. The same change twice is no contradiction.
 *
 * @example a part removed and its count set to 4; one field set to 3 and to 4; a part put twice with different spares
 */
export function contradictionsIn(changes: readonly Change[]): Problem[] {
  return [...byThing(changes).values()].flatMap((about) =>
    about.flatMap((one, i) => about.slice(i + 1).flatMap((other) => clash(one, other))),
  );
}

/** What of `later` speaks against `changes`, as when an edit is taken back whose things were changed again since. */
export function contradictionsBetween(changes: readonly Change[], later: readonly Change[]): Problem[] {
  const known = byThing(changes);
  return later.flatMap((other) => (known.get(thingOf(other)) ?? []).flatMap((one) => clash(one, other)));
}

/** Where a change makes itself felt, as problems name it: `parts.hook.count`, `event`. */
export function fieldOf(change: Change): string {
  if (change.list === 'build') return change.field;
  return `${change.list}.${change.key}${change.kind === 'set' ? `.${change.field}` : ''}`;
}

function byThing(changes: readonly Change[]): Map<string, Change[]> {
  const groups = new Map<string, Change[]>();
  for (const change of changes) {
    const thing = thingOf(change);
    groups.set(thing, [...(groups.get(thing) ?? []), change]);
  }
  return groups;
}

function thingOf(change: Change): string {
  return change.list === 'build' ? 'build' : `${change.list} ${change.key}`;
}

function clash(one: Change, other: Change): Problem[] {
  if (Equal(one, other) || agree(one, other)) return [];
  const message = say.contradiction(whatOf(one), does(one, other), does(other, one));
  return [problem('contradiction', fieldOf(one), saidBy(other), message)];
}

function agree(one: Change, other: Change): boolean {
  if (one.kind === 'remove' || other.kind === 'remove') return false;
  if (one.kind === 'put') return agreesWithNew(one, other);
  if (other.kind === 'put') return agreesWithNew(other, one);
  if (one.kind !== other.kind) return true;
  return one.kind === 'set' && other.kind === 'set' && one.field !== other.field;
}

function agreesWithNew(put: Change & { kind: 'put' }, other: Change): boolean {
  if (other.kind === 'set') return Equal(put.thing[other.field], other.value);
  return other.kind === 'move' && other.after === put.after;
}

function whatOf(change: Change): Sentence {
  if (change.list === 'build') return say.theBuild;
  return say.theThing(change.list as ThingList, change.key);
}

function does(change: Change, besides: Change): Sentence {
  switch (change.kind) {
    case 'put':
      return newOf(change, besides);
    case 'remove':
      return say.does.remove;
    case 'move':
      return say.does.after(change.after);
    case 'rename':
      return say.does.rename(change.to);
    case 'set':
      return has(change.field, change.value);
  }
}

function newOf(put: Change & { kind: 'put' }, besides: Change): Sentence {
  if (besides.kind === 'set') return has(besides.field, put.thing[besides.field]);
  const sameThing = besides.kind === 'put' && Equal(besides.thing, put.thing);
  return sameThing || besides.kind === 'move' ? placeOf(put) : say.does.put(jsonOf(put.thing, LONGEST));
}

function has(field: string, value: unknown): Sentence {
  return value === undefined ? say.does.empty(field) : say.does.set(field, jsonOf(value, LONGEST));
}

const LONGEST = 80;

function placeOf({ after }: Change & { kind: 'put' }): Sentence {
  return after === undefined ? say.does.end : say.does.after(after);
}

function saidBy(change: Change): unknown {
  switch (change.kind) {
    case 'set':
      return change.value ?? 'nothing';
    case 'move':
      return change.after ?? 'nothing';
    case 'rename':
      return change.to;
    case 'put':
      return change.thing;
    case 'remove':
      return 'remove';
  }
}
