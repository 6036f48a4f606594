/**
 * Long work in the thread that answers requests: done in turns, so that everybody else waits a moment at most. All of
 * it shares the turns of the thread: however much is under way, one turn of the event loop holds one turn of it.
 */

/** Milliseconds that one turn may take. */
export const LONGEST_TURN = 5;

/** Entries that are read or written at once: some milliseconds. */
export const AT_ONCE = 500;

/** When the work of this turn of the event loop began, by the clock of the process; null: nothing has begun. */
let turn: { readonly begun: number } | null = null;
/** Whoever waits for a turn, the longest first. */
const waiting: (() => void)[] = [];

/**
 * Whether all long work together has had its turn: whoever is at some asks now and then, and waits for `othersTurn`.
 */
export function isTurnOver(): boolean {
  return performance.now() - (turn ?? begin()).begun >= LONGEST_TURN;
}

/** Others' turn: over when those who asked before have had theirs, each in a turn of the event loop of its own. */
export function othersTurn(): Promise<void> {
  return new Promise((resolve) => {
    waiting.push(resolve);
    if (waiting.length === 1) setImmediate(giveTurn);
  });
}

function begin(): { readonly begun: number } {
  const mine = { begun: performance.now() };
  turn = mine;
  setImmediate(() => {
    if (turn === mine) turn = null;
  });
  return mine;
}

/** A turn for the first that waits. */
function giveTurn(): void {
  begin();
  const first = waiting.shift();
  if (waiting.length > 0) setImmediate(giveTurn);
  first?.();
}

/** What `act` gives for each of a list, in order, with others' turns between. */
export async function flatMapInTurns<T, R>(list: readonly T[], act: (one: T) => readonly R[]): Promise<R[]> {
  const all: R[] = [];
  for (const one of list) {
    if (isTurnOver()) await othersTurn();
    for (const each of act(one)) all.push(each);
  }
  return all;
}

/** All that these parts come to, in order, with others' turns between; what yields is where others may come in. */
export async function* inTurns<T>(parts: Iterable<T>): AsyncGenerator<T> {
  for (const part of parts) {
    if (isTurnOver()) await othersTurn();
    yield part;
  }
}

/** What work comes to that is done in parts, with others' turns between. */
export async function doneInTurns<R>(work: Generator<unknown, R>): Promise<R> {
  for (;;) {
    if (isTurnOver()) await othersTurn();
    const part = work.next();
    if (part.done === true) return part.value;
  }
}

/** Calls `act` with some hundreds of a list at a time, in order, with others' turns between. */
export async function someInTurns<T>(list: readonly T[], act: (some: readonly T[]) => void): Promise<void> {
  for (let first = 0; first < list.length; first += AT_ONCE) {
    if (first > 0) await othersTurn();
    act(list.slice(first, first + AT_ONCE));
  }
}
