/** Groups of things by a key. */

/**
 * Things by a key, keys and things in the order in which they come.
 *
 *     groupedBy([1, 2, 3], (n) => n % 2) // new Map([[1, [1, 3]], [0, [2]]])
 */
export function groupedBy<K, T>(things: Iterable<T>, keyOf: (thing: T) => K): Map<K, T[]> {
  const groups = new Map<K, T[]>();
  for (const thing of things) {
    const key = keyOf(thing);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [thing]);
    else group.push(thing);
  }
  return groups;
}

/**
 * The indices of `groupOf` laid flat by the group of each, in their order: where each of the groups 0 to `groups` - 1
 * begins, with the end of the last behind them, and the indices. Linear.
 *
 *     indicesByGroup(2, [1, 0, 1]) // [Int32Array.of(0, 1, 3), Int32Array.of(1, 0, 2)]
 */
export function indicesByGroup(groups: number, groupOf: ArrayLike<number>): [Int32Array, Int32Array] {
  const first = new Int32Array(groups + 1);
  for (let i = 0; i < groupOf.length; i++) first[groupOf[i]! + 1]!++;
  for (let group = 0; group < groups; group++) first[group + 1]! += first[group]!;
  const next = first.slice(0, groups);
  const indices = new Int32Array(groupOf.length);
  for (let i = 0; i < groupOf.length; i++) indices[next[groupOf[i]!]!++] = i;
  return [first, indices];
}
