/** Minutes a unit as a belief: the gamma-Poisson model and its intervals. */
import { gammaMixtureQuantile, gammaQuantile } from '../numbers/index.ts';

/**
 * What is known of a pace: units an hour, as a gamma with this shape and these hours (mean shape / hours). Read it as
 * `shape` units counted in `hours` hours. Counting Poisson arrivals keeps it a gamma (Gelman and others, "Bayesian Data
 * Analysis", 2.6). Any other unit of time will do, if it is the same everywhere.
 */
export interface Pace {
  readonly shape: number;
  readonly hours: number;
}

/** A pace that is one of several, and how likely it is; the shares of all of them come to 1. */
export interface LikelyPace extends Pace {
  readonly weight: number;
}

/**
 * A first belief by its spread: minutes a unit with a coefficient of variation (0.3: usually within 30 %). The gamma of
 * the pace whose implied minutes a unit have this mean and this spread (inverse gamma: shape = 2 + 1 / cv^2).
 */
export function paceFromMinutes(minutesPerUnit: number, coefficientOfVariation: number): Pace {
  const shape = 2 + 1 / coefficientOfVariation ** 2;
  return { shape, hours: ((shape - 1) * minutesPerUnit) / 60 };
}

/**
 * An older belief made weaker: it counts as `weight` times as many units, with the same mean. For paces that have
 * changed.
 */
export function fadePace(pace: Pace, weight: number): Pace {
  return { shape: pace.shape * weight, hours: pace.hours * weight };
}

/** The pace that is exceeded with chance 1 - p. Example: (34, 120) at 0.05 and 0.95 gives 0.208418 and 0.367709. */
function paceQuantile(p: number, { shape, hours }: Pace): number {
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

interface MiddleMinutes {
  readonly low: number;
  readonly high: number;
}

/**
 * What was worked out, by what was asked: the same paces are met in each set of values of a build's parameters, and to
 * find where a mixture of gammas comes to a share was a thirteenth of a small build's first chance.
 */
const known = new Map<string, MiddleMinutes>();
const MOST_KNOWN = 4_000;

/**
 * Ends of the middle `share` of minutes a unit where the pace is one of several beliefs.
 *
 *     minutesAmong([{ weight: 1, shape: 16, hours: 5 }], 0.95).low.toFixed(2) // '12.13'
 */
export function minutesAmong(paces: readonly LikelyPace[], share = 0.8): MiddleMinutes {
  const asked = paces.reduce((text, { weight, shape, hours }) => `${text} ${weight} ${shape} ${hours}`, `${share}`);
  const there = known.get(asked);
  if (there !== undefined) return there;
  const parts = paces.map(({ weight, shape, hours }) => ({ weight, shape, rate: hours }));
  const at = (p: number): number => 60 / gammaMixtureQuantile(p, parts);
  const found = { low: at((1 + share) / 2), high: at((1 - share) / 2) };
  if (known.size >= MOST_KNOWN) known.clear();
  known.set(asked, found);
  return found;
}
