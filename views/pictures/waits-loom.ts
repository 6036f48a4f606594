/** The same on a narrow sheet: steps under each other, what comes first above, their lines beside them in a duct. */
import type { WaitLine } from './waits-facts.ts';

/** One wire of the duct: it leaves a step and goes into one or more others. */
interface Wire {
  readonly from: string;
  readonly drives: boolean;
  readonly lines: readonly WaitLine[];
  /** Rows that it begins and ends at, from above. */
  readonly first: number;
  readonly last: number;
  /** From the steps outwards, from 0. */
  readonly track: number;
}

/** What one row of the duct has of a wire: whether it goes on above and below, leaves its step, or goes into it. */
export interface WireInRow {
  readonly wire: Wire;
  readonly above: boolean;
  readonly below: boolean;
  readonly leaves: boolean;
  readonly line: WaitLine | null;
}

interface Loom {
  readonly order: readonly string[];
  readonly tracks: number;
  /** By row, the wires that pass or meet it. */
  readonly rows: readonly (readonly WireInRow[])[];
}

/**
 * The steps in an order in which what comes first is above (where steps wait for each other in turns, nearly), as few
 * wires side by side as it finds at each step. Costs O(steps · (steps + lines)).
 */
export function waitsLoom(ids: readonly string[], lines: readonly WaitLine[]): Loom {
  const order = loomOrder(ids, lines);
  const wires = wiresOf(order, lines);
  return {
    order,
    tracks: wires.reduce((most, { track }) => Math.max(most, track + 1), 0),
    rows: order.map((id, row) =>
      wires.filter(({ first, last }) => first <= row && row <= last).map((wire) => wireInRow(wire, id, row)),
    ),
  };
}

function wireInRow(wire: Wire, id: string, row: number): WireInRow {
  const line = wire.lines.find(({ to }) => to === id) ?? null;
  return { wire, above: row > wire.first, below: row < wire.last, leaves: wire.from === id, line };
}

/** Always the step that leaves the fewest wires open; among equals the one that follows the last, then the first. */
function loomOrder(ids: readonly string[], lines: readonly WaitLine[]): string[] {
  const before = new Map(ids.map((id) => [id, new Set<string>()]));
  const after = new Map(ids.map((id) => [id, new Set<string>()]));
  for (const { from, to } of lines) {
    if (from === to) continue;
    before.get(to)!.add(from);
    after.get(from)!.add(to);
  }
  const order: string[] = [];
  const rest = new Set(ids);
  const waits = (id: string) => [...before.get(id)!].filter((one) => rest.has(one)).length;
  const opens = (id: string) => {
    const closes = [...before.get(id)!].filter((one) => [...after.get(one)!].every((to) => to === id || !rest.has(to)));
    return (after.get(id)!.size > 0 ? 1 : 0) - closes.length;
  };
  const isNext = (id: string) => order.length > 0 && after.get(order.at(-1)!)!.has(id);
  while (rest.size > 0) {
    const least = Math.min(...[...rest].map(waits));
    const free = [...rest].filter((id) => waits(id) === least);
    const ranked = free.map((id) => ({ id, cost: 2 * opens(id) - (isNext(id) ? 1 : 0) }));
    const best = ranked.reduce((a, b) => (b.cost < a.cost ? b : a)).id;
    order.push(best);
    rest.delete(best);
  }
  return order;
}

/** A step's lines share a wire, but for those that drive the date, which have their own. */
function wiresOf(order: readonly string[], lines: readonly WaitLine[]): Wire[] {
  const rowOf = new Map(order.map((id, row) => [id, row]));
  const bare = order.flatMap((from) =>
    [true, false].flatMap((drives) => {
      const own = lines.filter((line) => line.from === from && line.drives === drives);
      if (own.length === 0) return [];
      const rows = [from, ...own.map(({ to }) => to)].map((id) => rowOf.get(id)!);
      return [{ from, drives, lines: own, first: Math.min(...rows), last: Math.max(...rows) }];
    }),
  );
  const ends: number[] = [];
  return bare
    .sort((a, b) => a.first - b.first || a.last - b.last)
    .map((wire) => {
      const free = ends.findIndex((end) => end < wire.first);
      const track = free < 0 ? ends.length : free;
      ends[track] = wire.last;
      return { ...wire, track };
    });
}
