/** Counts so far from the others that something else than work was timed: they are kept and weigh less. */
import { betaShares } from '../numbers/index.ts';
import { asFirstUnits, type Change } from './pace-change.ts';
import type { TimedCount } from './pace-readings.ts';
import { ANY_SPREAD, learnPaceAndSpread, UNIT_SPREADS, type WorkedUnits } from './pace-spread.ts';

export interface OddCount {
  /** Its place among the counts. */
  readonly index: number;
  readonly count: TimedCount;
  /** Its minutes as a multiple of what they would be at the pace of the others. */
  readonly ratio: number;
  /** How far it is believed: 0 to 1. */
  readonly weight: number;
}

/** A count is odd at this many times the pace of the others, or that part of it; of fewer counts none is. */
const ODD_RATIO = 3;
const FEWEST_COUNTS = 4;
/** Nor is one that took but this many minutes more or less: a single unit tapped late. */
const LEAST_MINUTES = 10;
/** Nor one that the scatter of the others explains more often than once in ten thousand. */
const LEAST_CHANCE = 0.0001;
/** What the pace is thought to be before the others say: worth the hundredth part of a unit. */
const ANY_PACE = 0.01;

/**
 * The counts that are odd beside the others of their side of a change of pace, the oddest first. The weight falls with
 * the square of how far the count is beyond the limit, so that it moves the pace the less the odder it is (a
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
    const rest = side.flatMap(({ units }, i) => (i === index ? [] : [{ units, hours: minutes[i]! / 60 }]));
    if (chanceOf({ units: count.units, hours: minutes[index]! / 60 }, rest) > LEAST_CHANCE) return [];
    return [{ index, count, ratio, weight: (ODD_RATIO * Math.min(ratio, 1 / ratio)) ** 2 }];
  });
}

/**
 * How likely a count is so far from its share of all the time, or farther, on its side: whatever the pace, the share of
 * a gamma among gammas is a beta of their shapes. How much units scatter is what the other counts say of it, and no
 * more certain than they are: few alike may be so by chance.
 */
function chanceOf(count: WorkedUnits, others: readonly WorkedUnits[]): number {
  const [units, hours] = [sumOf(others, 'units'), sumOf(others, 'hours')];
  const thought = { shape: ANY_PACE, hours: (ANY_PACE * hours) / units };
  const { spread } = learnPaceAndSpread({ pace: thought, spread: ANY_SPREAD }, others);
  const share = count.hours / (count.hours + hours);
  let [below, above] = [0, 0];
  spread.forEach((weight, i) => {
    const variance = UNIT_SPREADS[i]! ** 2;
    const { lower, upper } = betaShares(share, count.units / variance, units / variance);
    below += weight * lower;
    above += weight * upper;
  });
  return Math.min(below, above);
}

function sumOf(counts: readonly WorkedUnits[], of: 'units' | 'hours'): number {
  return counts.reduce((sum, count) => sum + count[of], 0);
}
