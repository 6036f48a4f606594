/** Counts so far from the others that something else than work was timed: they are kept and weigh less. */
import { gammaCdf } from '../numbers/index.ts';
import { asFirstUnits, type Change } from './pace-change.ts';
import type { TimedCount } from './pace-readings.ts';

export interface OddCount {
  /** Its place among the counts. */
  readonly index: number;
  readonly count: TimedCount;
  /** Its minutes as a multiple of what they would be at the pace of the others. */
  readonly ratio: number;
  /** How far it is believed: 0 to 1. */
  readonly weight: number;
}

/** A count is odd at so many times the pace of the others, or that part of it; of fewer counts none is. */
const ODD_RATIO = 3;
const FEWEST_COUNTS = 4;
/** Nor is one that took but so many minutes more or less: a single unit tapped late. */
const LEAST_MINUTES = 10;
/** Nor one that the scatter of the others explains more often than once in ten thousand. */
const LEAST_CHANCE = 0.0001;
/** The scatter that is thought of before the others tell: a Poisson count's, as sure as two counts. */
const PRIOR_SCATTER = { variance: 1, counts: 2 };

/**
 * The counts that are odd beside the others of their side of a change of pace, the oddest first. The weight falls with
 * the square of how far the count lies beyond the limit, so that it moves the pace the less the odder it is (a
 * redescending weight; Huber, "Robust Statistics", 1981, chapter 4, from memory). O(counts squared) at worst, O(counts)
 * without an odd one.
 */
export function oddCountsOf(counts: readonly TimedCount[], change: Change | null, rate: number): OddCount[] {
  const from = change?.from ?? counts.length;
  const sides = [counts.slice(0, from), counts.slice(from)];
  return sides
    .flatMap((side, i) => oddOf(side, rate).map((odd) => ({ ...odd, index: odd.index + i * from })))
    .sort((a, b) => a.weight - b.weight);
}

function oddOf(side: readonly TimedCount[], rate: number): OddCount[] {
  if (side.length < FEWEST_COUNTS) return [];
  const minutes = side.map((count) => asFirstUnits(count, rate));
  const allMinutes = minutes.reduce((sum, m) => sum + m, 0);
  const allUnits = side.reduce((sum, { units }) => sum + units, 0);
  return side.flatMap((count, index): OddCount[] => {
    const others = (allMinutes - minutes[index]!) / (allUnits - count.units);
    const expected = others * count.units;
    const ratio = minutes[index]! / expected;
    const isFar = ratio >= ODD_RATIO || ratio <= 1 / ODD_RATIO;
    if (!isFar || Math.abs(minutes[index]! - expected) < LEAST_MINUTES) return [];
    const shape = count.units / scatterOf(side, minutes, index, others);
    const below = gammaCdf(ratio * shape, shape, 1);
    if (Math.min(below, 1 - below) > LEAST_CHANCE) return [];
    return [{ index, count, ratio, weight: (ODD_RATIO * Math.min(ratio, 1 / ratio)) ** 2 }];
  });
}

/** Square of the coefficient of variation of a single unit, by the counts but one. */
function scatterOf(side: readonly TimedCount[], minutes: readonly number[], but: number, pace: number): number {
  const squares = side.map(({ units }, i) => (i === but ? 0 : (minutes[i]! / pace - units) ** 2 / units));
  const sum = squares.reduce((total, square) => total + square, PRIOR_SCATTER.variance * PRIOR_SCATTER.counts);
  return sum / (side.length - 1 + PRIOR_SCATTER.counts);
}
