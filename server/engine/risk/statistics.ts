import type { Quantiles } from '../../model/index.ts';

/** Standard error of a share seen `hits` times in `tries`: sqrt(p (1 - p) / n) with Laplace's (hits + 1) / (tries + 2), never 0. */
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

/** The instants that are not passed with chance 10, 50, 80, 90 and 95 in a hundred (type 7, whole minutes). */
export function quantilesOf(instants: Int32Array): Quantiles {
  const sorted = instants.slice().sort();
  const at = (p: number) => Math.round(quantileOfSorted(sorted, p));
  return { p10: at(0.1), p50: at(0.5), p80: at(0.8), p90: at(0.9), p95: at(0.95) };
}

/** Spearman's rank correlation, ties at their mean rank; null where either does not vary. Example: [1, 2, 3] with [1, 4, 9] is 1. */
export function rankCorrelation(a: ArrayLike<number>, b: ArrayLike<number>): number | null {
  return correlation(ranksOf(a), ranksOf(b));
}

function correlation(a: Float64Array, b: Float64Array): number | null {
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

/** Ranks from 1, those of equals averaged. */
export function ranksOf(values: ArrayLike<number>): Float64Array {
  const order = Uint32Array.from({ length: values.length }, (_, i) => i).sort((i, j) => values[i]! - values[j]!);
  const ranks = new Float64Array(values.length);
  for (let i = 0; i < order.length; ) {
    let j = i;
    while (j < order.length && values[order[j]!] === values[order[i]!]) j++;
    for (let k = i; k < j; k++) ranks[order[k]!] = (i + 1 + j) / 2;
    i = j;
  }
  return ranks;
}
