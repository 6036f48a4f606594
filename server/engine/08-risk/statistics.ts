/** Shares, quantiles and their standard errors. */
import type { Quantiles } from '../../model/index.ts';

/**
 * Standard error of a share seen `hits` times in `tries`: sqrt(p (1 - p) / n) with Laplace's (hits + 1) / (tries + 2),
 * never 0.
 */
export function shareError(hits: number, tries: number): number {
  const p = (hits + 1) / (tries + 2);
  return Math.sqrt((p * (1 - p)) / tries);
}

/** Quantile of sorted values, with straight lines between (type 7 of Hyndman and Fan 1996). NaN for none. */
export function quantileOfSorted(sorted: ArrayLike<number>, p: number): number {
  if (sorted.length === 0) return Number.NaN;
  const place = p * (sorted.length - 1);
  const low = Math.floor(place);
  const high = Math.min(sorted.length - 1, low + 1);
  return sorted[low]! + (place - low) * (sorted[high]! - sorted[low]!);
}

/**
 * The share p whose quantile a value is: `quantileOfSorted` turned round, from 0 below the least to 1 above the
 * largest. Where many values are equal to it, it is the quantile of many shares: that of them which is nearest to
 * `near`. 0 for none. O(log n).
 *
 *     levelOfSorted([10, 20, 40], 30, 0.5) // 0.75
 *     levelOfSorted([10, 20, 20, 20, 40], 20, 0.5) // 0.5
 */
export function levelOfSorted(sorted: ArrayLike<number>, value: number, near: number): number {
  const last = sorted.length - 1;
  const [below, upTo] = [placeIn(sorted, (one) => one < value), placeIn(sorted, (one) => one <= value)];
  if (below < upTo) return last <= 0 ? near : Math.min((upTo - 1) / last, Math.max(below / last, near));
  if (below === 0) return 0;
  if (below > last) return 1;
  const [low, high] = [sorted[below - 1]!, sorted[below]!];
  return (below - 1 + (value - low) / (high - low)) / last;
}

/** How many of sorted values come before the first that fails. */
function placeIn(sorted: ArrayLike<number>, isBefore: (value: number) => boolean): number {
  let [low, high] = [0, sorted.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (isBefore(sorted[middle]!)) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The chances of `Quantiles`. */
export const QUANTILES = { p10: 0.1, p50: 0.5, p80: 0.8, p90: 0.9, p95: 0.95 } as const;

/** The instants that are not passed with chance 10, 50, 80, 90 and 95 in a hundred (type 7, whole minutes). */
export function quantilesOf(instants: Int32Array): Quantiles {
  const sorted = instants.slice().sort();
  const at = (name: keyof Quantiles) => Math.round(quantileOfSorted(sorted, QUANTILES[name]));
  return { p10: at('p10'), p50: at('p50'), p80: at('p80'), p90: at('p90'), p95: at('p95') };
}

/** The arithmetic mean; NaN for none. */
export function meanOf(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i]!;
  return sum / values.length;
}

/** Standard deviation of all of these, as sqrt(mean squared distance from the mean); 0 for none. */
export function standardDeviation(values: ArrayLike<number>): number {
  const mean = meanOf(values);
  let squares = 0;
  for (let i = 0; i < values.length; i++) squares += (values[i]! - mean) ** 2;
  return values.length === 0 ? 0 : Math.sqrt(squares / values.length);
}

/**
 * Spearman's rank correlation of two rankings (see `ranksOf`), ties at their mean rank; null where either does not
 * vary. Example: the ranks of [1, 2, 3] with those of [1, 4, 9] are 1.
 */
export function spearman(a: Float64Array, b: Float64Array): number | null {
  const mean = (a.length + 1) / 2;
  let [ab, aa, bb] = [0, 0, 0];
  for (let i = 0; i < a.length; i++) {
    const [x, y] = [a[i]! - mean, b[i]! - mean];
    ab += x * y;
    aa += x * x;
    bb += y * y;
  }
  return aa > 0 && bb > 0 ? ab / Math.sqrt(aa * bb) : null;
}

/** Values and places are sorted as one number each, which is many times faster than by a comparison of our own. */
const PLACES = 1 << 17;

/** Ranks from 1, those of equals averaged, of at most 131,072 whole numbers of less than 2^35 in size. */
export function ranksOf(values: ArrayLike<number>): Float64Array {
  const n = values.length;
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < n; i++) {
    least = Math.min(least, values[i]!);
    most = Math.max(most, values[i]!);
  }
  return most - least < n ? ranksByCounting(values, least, most) : ranksBySorting(values);
}

/** Where there are fewer different values than values. */
function ranksByCounting(values: ArrayLike<number>, least: number, most: number): Float64Array {
  const counts = new Int32Array(most - least + 1);
  for (let i = 0; i < values.length; i++) counts[values[i]! - least]!++;
  const rankOf = new Float64Array(counts.length);
  let before = 0;
  for (let v = 0; v < counts.length; v++) {
    rankOf[v] = before + (1 + counts[v]!) / 2;
    before += counts[v]!;
  }
  const ranks = new Float64Array(values.length);
  for (let i = 0; i < values.length; i++) ranks[i] = rankOf[values[i]! - least]!;
  return ranks;
}

function ranksBySorting(values: ArrayLike<number>): Float64Array {
  const n = values.length;
  const keys = new Float64Array(n);
  for (let i = 0; i < n; i++) keys[i] = values[i]! * PLACES + i;
  keys.sort();
  const ranks = new Float64Array(n);
  for (let i = 0; i < n; ) {
    const value = Math.floor(keys[i]! / PLACES);
    let j = i + 1;
    while (j < n && keys[j]! < (value + 1) * PLACES) j++;
    for (let k = i; k < j; k++) ranks[keys[k]! - value * PLACES] = (i + 1 + j) / 2;
    i = j;
  }
  return ranks;
}
