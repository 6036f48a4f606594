/** Minutes a unit as a belief: the gamma-Poisson model and its intervals. */
import {
  betaPrimeCdf,
  betaPrimeQuantile,
  gammaQuantile,
  negativeBinomialCdf,
  negativeBinomialQuantile,
} from '../numbers/index.ts';

/**
 * What is known of a pace: units an hour, as a gamma with this shape and these hours (mean shape / hours). Read it as `shape` units
 * counted in `hours` hours. Counting Poisson arrivals keeps it a gamma (Gelman and others, "Bayesian Data Analysis", 2.6).
 * Any other unit of time will do, if it is the same everywhere.
 */
export interface Pace {
  readonly shape: number;
  readonly hours: number;
}

/**
 * A first belief: this pace is likely, and it is as sure as `unitsWorth` counted units. Example: 0.2 an hour worth 4 units is
 * the gamma (4, 20).
 */
export function paceFromEstimate(unitsPerHour: number, unitsWorth: number): Pace {
  return { shape: unitsWorth, hours: unitsWorth / unitsPerHour };
}

/**
 * A first belief by its spread: minutes a unit with a coefficient of variation (0.3: usually within 30 %). The gamma of the pace whose
 * implied minutes a unit have this mean and this spread (inverse gamma: shape = 2 + 1 / cv^2).
 */
export function paceFromMinutes(minutesPerUnit: number, coefficientOfVariation: number): Pace {
  const shape = 2 + 1 / coefficientOfVariation ** 2;
  return { shape, hours: ((shape - 1) * minutesPerUnit) / 60 };
}

/** The belief after `units` more were counted in `hours` more. Example: (4, 20) and 30 in 100 h is (34, 120). */
export function learnPace(pace: Pace, units: number, hours: number): Pace {
  return { shape: pace.shape + units, hours: pace.hours + hours };
}

/** An older belief made weaker: it counts as `weight` times as many units, with the same mean. For paces that have changed. */
export function fadePace(pace: Pace, weight: number): Pace {
  return { shape: pace.shape * weight, hours: pace.hours * weight };
}

/** Units an hour: mean, mode (null where the density has none above 0) and standard deviation. */
export function paceMoments({ shape, hours }: Pace): { mean: number; mode: number | null; sd: number } {
  return { mean: shape / hours, mode: shape >= 1 ? (shape - 1) / hours : null, sd: Math.sqrt(shape) / hours };
}

/** The pace that is exceeded with chance 1 - p. Example: (34, 120) at 0.05 and 0.95 gives 0.208418 and 0.367709. */
export function paceQuantile(p: number, { shape, hours }: Pace): number {
  return gammaQuantile(p, shape, hours);
}

/** Ends of the middle `share` of the belief about the pace. Example: paceInterval(pace, 0.9). */
export function paceInterval(pace: Pace, share: number): { low: number; high: number } {
  return { low: paceQuantile((1 - share) / 2, pace), high: paceQuantile((1 + share) / 2, pace) };
}

/** Minutes a unit: mean (null unless shape > 1), median, and the ends of the middle `share`. */
export function minutesPerUnit(
  pace: Pace,
  share = 0.8,
): { mean: number | null; median: number; low: number; high: number } {
  const { low, high } = paceInterval(pace, share);
  const mean = pace.shape > 1 ? (60 * pace.hours) / (pace.shape - 1) : null;
  return { mean, median: 60 / paceQuantile(0.5, pace), low: 60 / high, high: 60 / low };
}

/** Units that `hours` more will bring, with the pace itself uncertain: negative binomial. Mean and standard deviation. */
export function countMoments({ shape, hours: known }: Pace, hours: number): { mean: number; sd: number } {
  const mean = (shape * hours) / known;
  return { mean, sd: Math.sqrt(mean * (1 + hours / known)) };
}

/** The least count not exceeded with chance p in `hours` more. Example: (34, 120) in 50 h: 9, 14, 20 at 0.1, 0.5, 0.9. */
export function countQuantile(p: number, pace: Pace, hours: number): number {
  return hours <= 0 ? 0 : negativeBinomialQuantile(p, pace.shape, pace.hours / (pace.hours + hours));
}

/** Chance that `hours` more bring at least `units`. Example: (34, 120), 50 h, 12 units: 0.709314. */
export function chanceOfCount(units: number, pace: Pace, hours: number): number {
  if (units <= 0) return 1;
  return hours <= 0 ? 0 : 1 - negativeBinomialCdf(units - 1, pace.shape, pace.hours / (pace.hours + hours));
}

/** Mean hours for the next `units`: hours x units / (shape - 1); null unless shape > 1. */
export function hoursForUnitsMean({ shape, hours }: Pace, units: number): number | null {
  return shape > 1 ? (hours * units) / (shape - 1) : null;
}

/**
 * Hours within which the next `units` are done with chance p: hours x beta prime (units, shape). The pace stays uncertain for all of them
 * together, so long runs spread wider than a plug-in average says. Example: (34, 120), 200 units at 0.9: 909.821.
 */
export function hoursForUnitsQuantile(p: number, { shape, hours }: Pace, units: number): number {
  return units <= 0 ? 0 : hours * betaPrimeQuantile(p, units, shape);
}

/** Chance that the next `units` are done within `within` hours. */
export function chanceOfUnitsWithin(within: number, { shape, hours }: Pace, units: number): number {
  return units <= 0 ? 1 : betaPrimeCdf(within / hours, units, shape);
}
