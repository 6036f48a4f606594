/** Arrivals of orders as tables that the generator reads. */
import type { ArrivalTable } from '../../types.ts';

/**
 * Arrival tables in flat arrays. Forwards: the finish of a lead begun at t is the arrival of the first cut-off at or
 * after t. Mirrored: begun at the arrival's mirror image, it finishes at the mirror image of the last cut-off whose
 * goods are there by then. Both are "the least key at or after t, and what belongs to it".
 */
export class Leads {
  private readonly keys: Int32Array[] = [];
  private readonly values: Int32Array[] = [];

  /** Adds a table and returns its number. */
  append(table: ArrivalTable, mirrored: boolean): number {
    const { cutoffs, arrivals } = table;
    if (mirrored) {
      this.keys.push(arrivals.map((t) => -t).reverse());
      this.values.push(cutoffs.map((t) => -t).reverse());
    } else {
      this.keys.push(cutoffs.slice());
      this.values.push(arrivals.slice());
    }
    return this.keys.length - 1;
  }

  /** When a lead of table k begun at t is over. Beyond the table it takes as long as the table's last entry did. */
  finish(k: number, t: number): number {
    const keys = this.keys[k]!;
    const values = this.values[k]!;
    let low = 0;
    let high = keys.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (keys[middle]! >= t) high = middle;
      else low = middle + 1;
    }
    if (low < keys.length) return values[low]!;
    return keys.length === 0 ? t : t + values[keys.length - 1]! - keys[keys.length - 1]!;
  }

  /** The latest start that ends as a lead begun at t does; t itself beyond the table. */
  latestStart(k: number, t: number): number {
    const keys = this.keys[k]!;
    let i = 0;
    while (i < keys.length && keys[i]! < t) i++;
    return i < keys.length ? keys[i]! : t;
  }

  /** The least start from which the lead does not end before `finish`. */
  startFor(k: number, finish: number): number {
    const keys = this.keys[k]!;
    const values = this.values[k]!;
    let i = 0;
    while (i < values.length && values[i]! < finish) i++;
    if (i === 0) return -2147483648;
    if (i < values.length) return keys[i - 1]! + 1;
    return Math.max(keys[i - 1]! + 1, finish - (values[i - 1]! - keys[i - 1]!));
  }
}
