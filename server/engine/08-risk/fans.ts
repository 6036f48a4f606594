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
  private readonly kept: { readonly finishes: Int32Array; readonly lots: FanLots }[] = [];
  private readonly planned: Planned;

  constructor(planned: Planned) {
    this.planned = planned;
  }

  /** Keeps a future; those after the first FUTURES are passed over. */
  add(finishes: Int32Array, lots: FanLots): void {
    if (this.kept.length < FUTURES) this.kept.push({ finishes: finishes.slice(), lots });
  }

  /**
   * All steps together in minutes of hands, from now to `until` or to their likely end if that is later, and when all
   * is `finished`, by every future that was drawn; then each step with units left, to its own likely end. O(futures x
   * (lots + steps x instants)).
   */
  answer(until: Instant, finished: Quantiles): BurnFan[] {
    const { plans, work } = this.planned;
    const all = this.fan(null, handsPerUnit(plans, work), until, finished);
    const steps = plans.map(({ id, kind }, step) =>
      this.fan(
        id,
        plans.map((_, other) => Number(other === step && kind !== 'gate')),
        this.planned.now,
      ),
    );
    return [all, ...steps].filter((fan) => fan !== null);
  }

  /** `weights[step]`: what one of its units counts. Null when there is nothing left. */
  private fan(step: string | null, weights: readonly number[], until: Instant, finished?: Quantiles): BurnFan | null {
    const counted = [...weights.keys()].filter((s) => weights[s]! > 0);
    const totals = this.kept.map(({ lots }) => counted.reduce((sum, s) => sum + lots[s]!.total * weights[s]!, 0));
    const most = Math.max(0, ...totals);
    if (most <= 0) return null;
    const lastUnitAt =
      finished ?? quantilesOf(Int32Array.from(this.kept, ({ finishes, lots }) => lastOf(finishes, lots, counted)));
    const from = this.planned.now;
    const every = Math.max(1, Math.ceil((Math.max(until, lastUnitAt.p95) - from) / (INSTANTS - 1)));
    const heights = new Heights(most);
    const falls = new Float64Array(INSTANTS);
    this.kept.forEach(({ finishes, lots }, n) => {
      falls.fill(0);
      for (const s of counted) {
        const { lots: own, units } = lots[s]!;
        for (let i = 0; i < own.length; i++) {
          const bin = Math.max(0, Math.ceil((finishes[own[i]!]! - from) / every));
          if (bin < INSTANTS) falls[bin] = falls[bin]! + units[i]! * weights[s]!;
        }
      }
      heights.add(totals[n]!, falls);
    });
    const instants = Array.from({ length: INSTANTS }, (_, i) => from + i * every);
    const counts = heights.counted();
    const at = (p: number) => heights.quantiles(counts, p * this.kept.length);
    return { step, instants, p10: at(0.1), p50: at(0.5), p90: at(0.9), lastUnitAt };
  }
}

function lastOf(finishes: Int32Array, lots: FanLots, counted: readonly number[]): Instant {
  let last = -2147483648;
  for (const s of counted) for (const lot of lots[s]!.lots) last = Math.max(last, finishes[lot]!);
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

  constructor(most: number) {
    this.each = Math.max(1, most / (HEIGHTS - 1));
    this.heights = Math.round(most / this.each) + 1;
    this.changes = new Int32Array(INSTANTS * this.heights);
  }

  /** A future: what is left at first, and by how much it falls at each instant. */
  add(total: number, falls: Float64Array): void {
    const { changes, each, heights } = this;
    let left = total - falls[0]!;
    let height = Math.max(0, Math.round(left / each));
    changes[height] = changes[height]! + 1;
    for (let i = 1; i < INSTANTS; i++) {
      if (falls[i] === 0) continue;
      left -= falls[i]!;
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
