/** Things of a forecast by their id. */

const indexes = new WeakMap<readonly Named[], ReadonlyMap<string, Named>>();

interface Named {
  readonly id: string;
}

/**
 * The first of a list with this id. A list is gone through once, however often it is asked: a page asks for the steps
 * of thousands of lots.
 *
 *     byId([{ id: 'cut', name: 'Cut' }], 'cut') // { id: 'cut', name: 'Cut' }
 */
export function byId<T extends Named>(list: readonly T[], id: string): T | undefined {
  let index = indexes.get(list);
  if (index === undefined) {
    index = new Map(list.toReversed().map((one) => [one.id, one]));
    indexes.set(list, index);
  }
  return index.get(id) as T | undefined;
}
