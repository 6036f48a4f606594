/** Long work in the thread that answers requests: done in turns, so that everybody else waits a moment at most. */

/** Milliseconds that one turn may take. */
export const LONGEST_TURN = 15;

/** Others' turn. */
export function othersTurn(): Promise<void> {
  return new Promise((resolve) => setImmediate(resolve));
}

/** What `act` gives for each of a list, in order, with others' turns between. */
export async function flatMapInTurns<T, R>(list: readonly T[], act: (one: T) => readonly R[]): Promise<R[]> {
  const all: R[] = [];
  let begun = performance.now();
  for (const one of list) {
    for (const each of act(one)) all.push(each);
    if (performance.now() - begun < LONGEST_TURN) continue;
    await othersTurn();
    begun = performance.now();
  }
  return all;
}

/** All that these parts come to, in order, with others' turns between; what yields is where others may come in. */
export async function* inTurns<T>(parts: Iterable<T>): AsyncGenerator<T> {
  let begun = performance.now();
  for (const part of parts) {
    yield part;
    if (performance.now() - begun < LONGEST_TURN) continue;
    await othersTurn();
    begun = performance.now();
  }
}

/** Calls `act` with some hundreds of a list at a time, in order, with others' turns between. */
export async function someInTurns<T>(list: readonly T[], act: (some: readonly T[]) => void): Promise<void> {
  for (let first = 0; first < list.length; first += AT_ONCE) {
    if (first > 0) await othersTurn();
    act(list.slice(first, first + AT_ONCE));
  }
}

/** Entries that are read or written at once: some milliseconds. */
export const AT_ONCE = 1000;
