/** An order in which everything comes after what it needs, and the circles that prevent one. */

/**
 * Things numbered 0 .. count-1 that need each other, put in an order in which everything comes after what it needs.
 */
interface DependencyOrder {
  /** What can be ordered, each after all that it needs; among the free the lowest number first. */
  readonly order: readonly number[];
  /**
   * Circles, each once, as the numbers met on the way round; the first is the lowest of the circle and is not repeated.
   */
  readonly circles: readonly (readonly number[])[];
  /** What is in no circle but needs, directly or not, something that does. */
  readonly behindCircles: readonly number[];
}

/**
 * Orders by need (Kahn 1962) and names the circles that prevent it. `needs[i]` lists what i needs; an edge may occur
 * twice. Costs time linear in things and needs, and a queue and a stack of its own: a chain of any length does not
 * overflow. Example: needs [[1], [2], []] gives order [2, 1, 0]; needs [[1], [0], [0]] gives circles [[0, 1]],
 * behindCircles [2].
 */
export function dependencyOrder(needs: readonly (readonly number[])[]): DependencyOrder {
  const waitingFor = needs.map((list) => list.length);
  const neededBy = invert(needs);
  const order: number[] = [];
  const free = new LowestFirst();
  waitingFor.forEach((count, i) => {
    if (count === 0) free.push(i);
  });
  for (let i = free.pop(); i !== undefined; i = free.pop()) {
    order.push(i);
    for (const j of neededBy[i]!) if (--waitingFor[j]! === 0) free.push(j);
  }
  if (order.length === needs.length) return { order, circles: [], behindCircles: [] };
  const stuck = new Set(needs.keys());
  for (const i of order) stuck.delete(i);
  const circles = findCircles(needs, stuck);
  const inCircle = new Set(circles.flat());
  return { order, circles, behindCircles: [...stuck].filter((i) => !inCircle.has(i)) };
}

/** Names of a circle that are said; whoever has to open it finds it by fewer. */
const MOST_NAMED = 12;

/**
 * The names of a circle joined in order and closed; of a long one its first and its last. Example:
 * describeCircle(['panels', 'fish']) is 'panels -> fish -> panels'.
 */
export function describeCircle(names: readonly string[]): string {
  const half = MOST_NAMED / 2;
  const said = names.length <= MOST_NAMED ? names : [...names.slice(0, half), '…', ...names.slice(-half)];
  return [...said, names[0]].join(' -> ');
}

function invert(needs: readonly (readonly number[])[]): number[][] {
  const neededBy: number[][] = needs.map(() => []);
  needs.forEach((list, i) => {
    for (const j of list) neededBy[j]!.push(i);
  });
  return neededBy;
}

/**
 * Depth first over what is stuck; a step onto the path walked closes a circle. At least one circle of every knot is
 * named.
 */
function findCircles(needs: readonly (readonly number[])[], stuck: ReadonlySet<number>): number[][] {
  const circles: number[][] = [];
  const named = new Set<number>();
  const done = new Set<number>();
  for (const start of stuck) {
    const path: number[] = [];
    const positionOnPath = new Map<number, number>();
    const nextNeed: number[] = [];
    const enter = (i: number) => {
      positionOnPath.set(i, path.length);
      path.push(i);
      nextNeed.push(0);
    };
    if (!done.has(start)) enter(start);
    while (path.length > 0) {
      const i = path.at(-1)!;
      const j = needs[i]![nextNeed[nextNeed.length - 1]!++];
      if (j === undefined) {
        path.pop();
        nextNeed.pop();
        positionOnPath.delete(i);
        done.add(i);
      } else if (positionOnPath.has(j)) {
        const circle = path.slice(positionOnPath.get(j)!);
        if (!circle.some((member) => named.has(member))) circles.push(lowestFirst(circle));
        for (const member of circle) named.add(member);
      } else if (stuck.has(j) && !done.has(j)) enter(j);
    }
  }
  return circles;
}

function lowestFirst(circle: readonly number[]): number[] {
  const at = circle.indexOf(circle.reduce((least, i) => Math.min(least, i)));
  return [...circle.slice(at), ...circle.slice(0, at)];
}

/** A binary heap of numbers: gives the lowest back first. */
class LowestFirst {
  readonly #heap: number[] = [];

  push(value: number): void {
    const heap = this.#heap;
    let at = heap.push(value) - 1;
    while (at > 0) {
      const parent = (at - 1) >> 1;
      if (heap[parent]! <= value) break;
      heap[at] = heap[parent]!;
      at = parent;
    }
    heap[at] = value;
  }

  pop(): number | undefined {
    const heap = this.#heap;
    const lowest = heap[0];
    const last = heap.pop();
    if (last === undefined || heap.length === 0) return lowest;
    let at = 0;
    for (let child = 1; child < heap.length; child = 2 * at + 1) {
      if (child + 1 < heap.length && heap[child + 1]! < heap[child]!) child++;
      if (heap[child]! >= last) break;
      heap[at] = heap[child]!;
      at = child;
    }
    heap[at] = last;
    return lowest;
  }
}
