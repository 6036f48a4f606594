/** The fan of what may come: how much is left at each instant, over many futures. */
import type { BurnFan, Quantiles } from '../../model/index.ts';
import { handsPerUnit } from '../04-lots/index.ts';
import type { Planned, Remaining } from '../stages/index.ts';
import type { Instant, Lot } from '../types.ts';
import { quantilesOf } from './statistics.ts';

/** Instants of a fan, now among them, and futures that it is drawn from, at most. */
const INSTANTS = 40;
const FUTURES = 500;
/** What is left is rounded to this many heights; fewer units are kept one by one. */
const HEIGHTS = 256;

/** By step, the lots whose units a fan counts, and how many they are. */
export type FanLots = readonly { readonly lots: Int32Array; readonly units: Int32Array; readonly total: number }[];

/** The units of steps, orders and gates; a milestone has none. */
export function fanLotsOf({ plans }: Remaining, lots: readonly Lot[]): FanLots {
  const byStep = plans.map((): number[] => []);
  lots.forEach(({ step, firstUnit, lastUnit }, l) => {
    if (plans[step]!.total > 0 && lastUnit >= firstUnit) byStep[step]!.push(l);
  });
  return byStep.map((own) => {
    const units = Int32Array.from(own, (l) => lots[l]!.lastUnit - lots[l]!.firstUnit + 1);
    return { lots: Int32Array.from(own), units, total: units.reduce((sum, n) => sum + n, 0) };
  });
}

/**
 * What may still be left over time, from the first futures of a run. For each it keeps when its lots finish, a number a
 * lot, and the instants are chosen when the ends are known.
 */
export class Fans {
  private readonly kept: Kept[] = [];
  private readonly planned: Planned;
  /** By step and future, when the last unit is done. */
  private readonly lastUnits: readonly Int32Array[];

  constructor(planned: Planned) {
    this.planned = planned;
    this.lastUnits = planned.plans.map(() => new Int32Array(FUTURES));
  }

  /** Keeps a future; those after the first FUTURES are passed over. */
  add(finishes: Int32Array, lots: FanLots): void {
    const n = this.kept.length;
    if (n >= FUTURES) return;
    for (let s = 0; s < lots.length; s++) this.lastUnits[s]![n] = lastOf(finishes, lots[s]!.lots);
    this.kept.push({ finishes: finishes.slice(), lots });
  }

  /**
   * All steps together in minutes of hands, from now to `until` or to their likely end if that is later, and when all
   * is `finished`, by every future that was drawn; then each step with units left, to its own likely end. O(futures x
   * (lots + steps x instants)).
   */
  answer(until: Instant, finished: Quantiles): BurnFan[] {
    const { plans, work, now } = this.planned;
    const all = this.fan(null, Float64Array.from(handsPerUnit(plans, work)), until, finished);
    const steps = plans.map(({ id, kind }, step) => {
      if (kind === 'gate') return null;
      const lastUnitAt = quantilesOf(this.lastUnits[step]!.subarray(0, this.kept.length));
      return this.fan(
        id,
        Float64Array.from(plans, (_, other) => Number(other === step)),
        now,
        lastUnitAt,
      );
    });
    return [all, ...steps].filter((fan) => fan !== null);
  }

  /** `weights`: by step what one of its units counts. Null when there is nothing left. */
  private fan(step: string | null, weights: Float64Array, until: Instant, lastUnitAt: Quantiles): BurnFan | null {
    const counted = Int32Array.from(weights.keys()).filter((s) => weights[s]! > 0);
    const totals = new Float64Array(this.kept.length);
    for (const s of counted) addTotals(totals, this.kept, s, weights[s]!);
    const most = totals.reduce((a, b) => Math.max(a, b), 0);
    if (most <= 0) return null;
    const from = this.planned.now;
    const every = Math.max(1, Math.ceil((Math.max(until, lastUnitAt.p95) - from) / (INSTANTS - 1)));
    const heights = new Heights(most);
    for (let n = 0; n < this.kept.length; n++) heights.add(totals[n]!, this.kept[n]!, counted, weights, from, every);
    const instants = Array.from({ length: INSTANTS }, (_, i) => from + i * every);
    const counts = heights.counted();
    const at = (p: number) => heights.quantiles(counts, p * this.kept.length);
    return { step, instants, p10: at(0.1), p50: at(0.5), p90: at(0.9), lastUnitAt };
  }
}

/** A future: when its lots finish, and which they are. */
interface Kept {
  readonly finishes: Int32Array;
  readonly lots: FanLots;
}

function addTotals(totals: Float64Array, kept: readonly Kept[], step: number, weight: number): void {
  for (let n = 0; n < kept.length; n++) totals[n] = totals[n]! + kept[n]!.lots[step]!.total * weight;
}

function lastOf(finishes: Int32Array, lots: Int32Array): Instant {
  let last = -2147483648;
  for (let i = 0; i < lots.length; i++) last = Math.max(last, finishes[lots[i]!]!);
  return last;
}

/**
 * At every instant, how many futures have how much left. Kept as what changes from the instant before, until they are
 * counted.
 */
class Heights {
  private readonly each: number;
  private readonly heights: number;
  private readonly changes: Int32Array;
  /** By how much less is left at each instant, of one future at a time. */
  private readonly falls = new Float64Array(INSTANTS);

  constructor(most: number) {
    this.each = Math.max(1, most / (HEIGHTS - 1));
    this.heights = Math.round(most / this.each) + 1;
    this.changes = new Int32Array(INSTANTS * this.heights);
  }

  /** A future with `total` left at first. Each unit of the steps `counted` counts its weight. */
  add(total: number, future: Kept, counted: Int32Array, weights: Float64Array, from: Instant, every: number): void {
    const { changes, each, heights, falls } = this;
    for (let s = 0; s < counted.length; s++) addFalls(falls, future, counted[s]!, weights[counted[s]!]!, from, every);
    let left = total - falls[0]!;
    let height = Math.max(0, Math.round(left / each));
    changes[height]!++;
    falls[0] = 0;
    for (let i = 1; i < INSTANTS; i++) {
      const fall = falls[i]!;
      if (fall === 0) continue;
      falls[i] = 0;
      left -= fall;
      changes[i * heights + height]!--;
      height = Math.max(0, Math.round(left / each));
      changes[i * heights + height]!++;
    }
  }

  /** The number of futures by instant and height. */
  counted(): Int32Array {
    const { heights } = this;
    const counts = this.changes.slice();
    for (let cell = heights; cell < counts.length; cell++) counts[cell] = counts[cell]! + counts[cell - heights]!;
    return counts;
  }

  /** At each instant the least that at least this many futures of those `counted` do not exceed. */
  quantiles(counts: Int32Array, futures: number): number[] {
    const { heights } = this;
    return Array.from({ length: INSTANTS }, (_, i) => {
      let height = 0;
      let seen = counts[i * heights]!;
      while (seen < futures && height < heights - 1) seen += counts[i * heights + ++height]!;
      return Math.round(height * this.each);
    });
  }
}

/** Adds by how much less is left at each instant, `every` minutes apart, once the lots of a step are done. */
function addFalls(
  falls: Float64Array,
  { finishes, lots: all }: Kept,
  step: number,
  weight: number,
  from: Instant,
  every: number,
): void {
  const { lots, units } = all[step]!;
  for (let i = 0; i < lots.length; i++) {
    const bin = Math.max(0, Math.ceil((finishes[lots[i]!]! - from) / every));
    if (bin < INSTANTS) falls[bin] = falls[bin]! + units[i]! * weight;
  }
}
