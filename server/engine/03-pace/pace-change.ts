/** Whether the pace of a step has changed since counting began: a new helper, a new jig. */
import { binomialCdf, lotMinutes } from '../numbers/index.ts';
import type { TimedCount } from './pace-readings.ts';

export interface Change {
  /** Index of the first count of the new pace. */
  readonly from: number;
  readonly at: number;
  readonly before: number;
  readonly since: number;
}

/**
 * The split of the counts into before and since at which the two paces differ most, if that is no chance: given all
 * units, those of one side are binomial with the share of its time (the conditional test of two Poisson rates;
 * Przyborowski and Wilenski 1940). Asked at one in a hundred, divided by the splits tried; both sides need five units,
 * and a change of a quarter that most of their counts bear out, so that a single odd count is no change.
 */
export function changeIn(counts: readonly TimedCount[], rate: number): Change | null {
  const minutes = counts.map((count) => asFirstUnits(count, rate));
  const paces = minutes.map((m, i) => m / counts[i]!.units);
  const allMinutes = minutes.reduce((sum, m) => sum + m, 0);
  const allUnits = counts.reduce((sum, count) => sum + count.units, 0);
  let best: Change | null = null;
  let least = 0.01 / Math.max(1, counts.length - 1);
  let [unitsBefore, minutesBefore] = [0, 0];
  for (let k = 1; k < counts.length; k++) {
    unitsBefore += counts[k - 1]!.units;
    minutesBefore += minutes[k - 1]!;
    const [unitsSince, minutesSince] = [allUnits - unitsBefore, allMinutes - minutesBefore];
    if (unitsBefore < 5 || unitsSince < 5) continue;
    const [before, since] = [minutesBefore / unitsBefore, minutesSince / unitsSince];
    if (Math.max(before, since) < 1.25 * Math.min(before, since)) continue;
    if (!isBorneOut(paces, k, before, since)) continue;
    const share = minutesBefore / allMinutes;
    const chance =
      2 * Math.min(binomialCdf(unitsBefore, allUnits, share), 1 - binomialCdf(unitsBefore - 1, allUnits, share));
    if (chance < least) {
      least = chance;
      best = { from: k, at: counts[k]!.at, before, since };
    }
  }
  return best;
}

/**
 * Whether two in three counts of either side, and two at least, lie nearer to their own side's pace than to the
 * other's.
 */
function isBorneOut(paces: readonly number[], from: number, before: number, since: number): boolean {
  const middle = Math.sqrt(before * since);
  const isBefore = (pace: number): boolean => pace > middle === before > since;
  const [old, recent] = [paces.slice(0, from), paces.slice(from)];
  const enough = (kept: number, of: number): boolean => kept >= 2 && kept >= (2 / 3) * of;
  return (
    enough(old.filter(isBefore).length, old.length) &&
    enough(recent.filter((pace) => !isBefore(pace)).length, recent.length)
  );
}

/** The minutes that as many units would have taken at the pace of the first. */
export function asFirstUnits({ units, minutes, unitsBefore }: TimedCount, rate: number): number {
  if (rate === 1) return minutes;
  return (minutes * units) / lotMinutes(1, rate, unitsBefore + 1, unitsBefore + units);
}
