/** Which rows of a list became which, where a list of rows was edited: a work pattern, feeds, days that differ. */
import type { Thing } from '../../model/index.ts';

/** A row and what became of it; one of the two is left out where it was taken out or is new. */
interface RowPair {
  readonly from?: Thing;
  readonly to?: Thing;
}

/**
 * The rows that differ, in order. Those that are the same in both (a longest common subsequence of them) are left out;
 * between them a row has become the next that is of its kind and about the same thing. Costs the product of the two
 * lengths.
 */
export function rowPairs(old: readonly Thing[], now: readonly Thing[]): RowPair[] {
  return unlike(old, now).flatMap(({ from, to }) => paired(from, to));
}

interface Stretch {
  readonly from: readonly Thing[];
  readonly to: readonly Thing[];
}

function paired(from: readonly Thing[], to: readonly Thing[]): RowPair[] {
  const pairs: RowPair[] = [];
  let next = 0;
  for (const row of from) {
    const at = to.findIndex((other, i) => i >= next && alike(row, other));
    if (at < 0) pairs.push({ from: row });
    else {
      pairs.push(...to.slice(next, at).map((other) => ({ to: other })), { from: row, to: to[at]! });
      next = at + 1;
    }
  }
  return [...pairs, ...to.slice(next).map((other) => ({ to: other }))];
}

function alike(one: Thing, other: Thing): boolean {
  return ['kind', 'step', 'part', 'date'].every((field) => one[field] === other[field]);
}

/** The stretches between the rows of a longest common subsequence. */
function unlike(old: readonly Thing[], now: readonly Thing[]): Stretch[] {
  const [a, b] = [old, now].map((rows) => rows.map((it) => JSON.stringify(it))) as [string[], string[]];
  const common = commonLengths(a, b);
  const stretches: { from: Thing[]; to: Thing[] }[] = [{ from: [], to: [] }];
  for (let [i, j] = [0, 0]; i < a.length || j < b.length; ) {
    const last = stretches.at(-1)!;
    if (i < a.length && a[i] === b[j]) {
      [i, j] = [i + 1, j + 1];
      stretches.push({ from: [], to: [] });
    } else if (j === b.length || (i < a.length && common[i + 1]![j]! >= common[i]![j + 1]!)) last.from.push(old[i++]!);
    else last.to.push(now[j++]!);
  }
  return stretches;
}

/** How long a common subsequence is of what is left from each place of the two on. */
function commonLengths(a: readonly string[], b: readonly string[]): number[][] {
  const lengths = Array.from({ length: a.length + 1 }, () => new Array<number>(b.length + 1).fill(0));
  for (let i = a.length - 1; i >= 0; i--) {
    for (let j = b.length - 1; j >= 0; j--) {
      lengths[i]![j] = a[i] === b[j] ? lengths[i + 1]![j + 1]! + 1 : Math.max(lengths[i + 1]![j]!, lengths[i]![j + 1]!);
    }
  }
  return lengths;
}
