/** The changes that lead from one build to another. */
import { Equal } from 'typebox/value';
import type { Build } from '../build.ts';
import type { Change } from './change.ts';
import { fieldsOf, fixedFields, keysOf, THING_LISTS, type Thing, type ThingList, thingsOf } from './lists.ts';

/**
 * The fewest changes that turn `before` into `after`: `applyChanges(before, changesBetween(before, after))` is `after`,
 * but that an empty list of the build says the same as none. Things are the same where their key is, so a parameter
 * with another name is another parameter; things that need not move do not (the longest run of them that is in order
 * stays). The id of a build is no change. Costs n log n for a list of n things.
 *
 * @example a count from 40 to 44 is [{ kind: 'set', list: 'parts', key: 'hook', field: 'count', value: 44 }]
 */
export function changesBetween(before: Build, after: Build): Change[] {
  const own = fieldsOf('build').filter((field) => field !== 'id');
  return [
    ...changedFields(before, after, own).map((change) => ({ kind: 'set' as const, list: 'build' as const, ...change })),
    ...THING_LISTS.flatMap((list) => listChanges(list, thingsOf(before, list), thingsOf(after, list))),
  ];
}

/**
 * The fields in which two things of a list differ, as changes of the thing `key`. What others refer to it by is left
 * out.
 */
export function fieldChanges(list: ThingList, key: string, before: Thing, after: Thing): Change[] {
  const fields = fieldsOf(list).filter((field) => !fixedFields(list).includes(field));
  return changedFields(before, after, fields).map((change) => ({ kind: 'set', list, key, ...change }));
}

function changedFields(before: Thing, after: Thing, fields: readonly string[]): { field: string; value?: unknown }[] {
  return fields
    .filter((field) => !Equal(before[field], after[field]))
    .map((field) => (after[field] === undefined ? { field } : { field, value: after[field] }));
}

function listChanges(list: ThingList, before: readonly Thing[], after: readonly Thing[]): Change[] {
  const old = new Map(keysOf(list, before).map((key, at) => [key, { at, thing: before[at]! }]));
  const now = keysOf(list, after).map((key, i) => ({ key, thing: after[i]!, old: old.get(key) }));
  const left = new Set(now.map(({ key }) => key));
  const removed = [...old.keys()].filter((key) => !left.has(key));
  const steady = longestRise(now.flatMap((it) => (it.old === undefined ? [] : [it.old.at])));
  const tail = now.findLastIndex((it) => it.old !== undefined);
  return [
    ...removed.map((key) => ({ kind: 'remove' as const, list, key })),
    ...now.flatMap((it) => (it.old === undefined ? [] : fieldChanges(list, it.key, it.old.thing, it.thing))),
    ...now.flatMap(({ key, thing, old }, i): Change[] => {
      const after = now[i - 1]?.key ?? null;
      if (old !== undefined) return steady.has(old.at) ? [] : [{ kind: 'move', list, key, after }];
      return [{ kind: 'put', list, key, thing, ...(i > tail ? {} : { after }) }];
    }),
  ];
}

/**
 * The numbers of a longest rising subsequence (by piles whose tops rise, Fredman 1975, from memory). They differ from
 * each other.
 */
function longestRise(numbers: readonly number[]): Set<number> {
  const tops: number[] = [];
  const before = new Map<number, number | undefined>();
  for (const number of numbers) {
    const pile = firstAbove(tops, number);
    before.set(number, tops[pile - 1]);
    tops[pile] = number;
  }
  const rise = new Set<number>();
  for (let at = tops.at(-1); at !== undefined; at = before.get(at)) rise.add(at);
  return rise;
}

function firstAbove(tops: readonly number[], number: number): number {
  let [from, to] = [0, tops.length];
  while (from < to) {
    const middle = (from + to) >> 1;
    if (tops[middle]! < number) from = middle + 1;
    else to = middle;
  }
  return from;
}
