/** How quickly hands learn a step, by its counts and by what was given. */
import { fitLearning, learningExponent } from '../numbers/index.ts';
import { asFirstUnits, type Change, changeIn } from './pace-change.ts';
import type { TimedCount } from './pace-readings.ts';

export interface Learning {
  /** Share of the time at each doubling of the units (Crawford); 1: nothing is learnt. */
  readonly rate: number;
  /** What the maker gave; 1 where nothing. */
  readonly given: number;
  /** Counts that moved the rate; 0 while it is as given. */
  readonly counts: number;
  /** Standard deviation of log2 of the rate; 0 where nothing is learnt. */
  readonly error: number;
}

/**
 * Counts, and times that the number of the unit has doubled between first and last, before a rate is read from them.
 */
const ENOUGH = { counts: 6, doublings: 2 };
/** Standard deviation of log2 of a given rate: 0.9 may be 0.85 to 0.95 (common practice, no source). */
const GIVEN_SPREAD = 0.08;
/** Where none was given, one is read only if it is that many of its standard errors away from none. */
const PLAIN = 3;
const LEAST_ERROR = 0.02;
const STEEPEST = 0.6;

/**
 * The learning rate of timed counts. Its exponent is a normal belief around the given one, joined by precision with the
 * least-squares slope of the logarithms of minutes against unit number (Gelman and others, "Bayesian Data Analysis",
 * 2.5). Left as given while the counts are few, and where a change of pace at one moment explains them better than
 * learning does.
 */
export function learningOf(counts: readonly TimedCount[], given: number): Learning {
  const asGiven: Learning = { rate: given, given, counts: 0, error: given < 1 ? GIVEN_SPREAD : 0 };
  if (counts.length < ENOUGH.counts) return asGiven;
  const points = counts.map(({ units, minutes, unitsBefore }) => ({
    unit: unitsBefore + (units + 1) / 2,
    minutes: minutes / units,
    weight: units,
  }));
  const doublings = Math.log2(points.at(-1)!.unit / points[0]!.unit);
  const fit = fitLearning(points);
  if (fit === null || doublings < ENOUGH.doublings) return asGiven;
  const error = Math.max(LEAST_ERROR, fit.exponentError);
  const slope = learningExponent(fit.rate);
  if (given >= 1 && slope > -PLAIN * error) return asGiven;
  const weights = [1 / GIVEN_SPREAD ** 2, 1 / error ** 2] as const;
  const exponent = (learningExponent(given) * weights[0] + slope * weights[1]) / (weights[0] + weights[1]);
  const rate = Math.min(1, Math.max(STEEPEST, 2 ** exponent));
  const change = changeIn(counts, given);
  if (change !== null && scatterOf(counts, given, change) < scatterOf(counts, 2 ** slope, null)) return asGiven;
  const unsure = 1 / Math.sqrt(weights[0] + weights[1]);
  if (Math.abs(rate - given) < 0.005) return { ...asGiven, error: unsure };
  return { rate, given, counts: counts.length, error: unsure };
}

/** Squares of what is left of the logarithms once the rate, and the two sides of a change, are taken off. */
function scatterOf(counts: readonly TimedCount[], rate: number, change: Change | null): number {
  const logs = counts.map((count) => Math.log(asFirstUnits(count, rate) / count.units));
  const sides = change === null ? [logs] : [logs.slice(0, change.from), logs.slice(change.from)];
  return sides.reduce((sum, side) => {
    const mean = side.reduce((all, log) => all + log, 0) / side.length;
    return sum + side.reduce((all, log) => all + (log - mean) ** 2, 0);
  }, 0);
}
