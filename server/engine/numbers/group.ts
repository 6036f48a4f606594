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
