/**
 * How much single units scatter around their step's pace, learnt together with the pace: steady hands tell more by a
 * count than fitful ones.
 */

import { lnGamma, trigamma } from '../numbers/index.ts';
import type { LikelyPace, Pace } from './pace-model.ts';

/** Units, and the hours they took. */
export interface WorkedUnits {
  readonly units: number;
  readonly hours: number;
  /** How far they are believed, 1 unless given. */
  readonly weight?: number;
  /**
   * Whether they cannot have been made in this time: they say nothing of how units scatter, and weigh no more than a
   * Poisson count, however steady the hands are.
   */
  readonly isTooQuick?: boolean;
}

/**
 * Coefficients of variation of the minutes of single units that are weighed against each other, each a half more than
 * the one before; 1 is a Poisson count.
 */
export const UNIT_SPREADS = [0.067, 0.1, 0.15, 0.22, 0.32, 0.46, 0.68, 1, 1.47, 2.15] as const;

/** How likely each of `UNIT_SPREADS` is, in any unit. */
export type SpreadBelief = readonly number[];

/**
 * Before anything is counted: the reference prior of the shape a = 1 / v² of a gamma whose mean is asked for, which is
 * √(ψ′(a) − 1/a) (J. Berger and J. Bernardo's method; D. Sun and K. Ye, "Frequentist validity of posterior quantiles
 * for a two-parameter exponential family", Biometrika 83, 1996, both from memory). Its intervals come to
 * hold as often as they say whatever the spread is, not on average over all spreads alone. By v it is almost even
 * over equal steps of log v; half of it at either end, as the trapezoidal rule has it between them.
 */
export const ANY_SPREAD: SpreadBelief = UNIT_SPREADS.map((v, i) => {
  const isEnd = i === 0 || i === UNIT_SPREADS.length - 1;
  return ((isEnd ? 0.5 : 1) * Math.sqrt(trigamma(v ** -2) - v ** 2)) / v ** 2;
});

/**
 * How the same hands scatter at another step: one in ten times however it be; else as much half of the time, or a step
 * of `UNIT_SPREADS` more or less (common sense, no source).
 */
const ALIKE = { any: 0.1, same: 0.5 };

/**
 * What is believed of each step's spread before its own counts, by those of all other steps: hands that are steady at
 * one are hardly fitful at the next. Each of `said` is how likely every one of `UNIT_SPREADS` makes the counts of a
 * step, by any measure; null where it has none. The spread of the hands is behind all of them (a hierarchical belief;
 * Gelman and others, "Bayesian Data Analysis", chapter 5). `ANY_SPREAD` where no other has counts. O(steps).
 *
 *     spreadsByOthers([null]) // [ANY_SPREAD]
 */
export function spreadsByOthers(said: readonly (SpreadBelief | null)[]): SpreadBelief[] {
  const likelihoods = said.map((one) => one && alike(shared(one)));
  const before = productsBefore(likelihoods);
  const after = productsBefore(likelihoods.slice().reverse()).reverse();
  const counted = said.filter((one) => one !== null).length;
  return said.map((own, i) => {
    if (counted === Number(own !== null)) return ANY_SPREAD;
    return alike(shared(ANY_SPREAD.map((weight, k) => weight * before[i]![k]! * after[i]![k]!)));
  });
}

/** For each place the product of those before it, as shares. */
function productsBefore(likelihoods: readonly (SpreadBelief | null)[]): SpreadBelief[] {
  let product: SpreadBelief = shared(ANY_SPREAD.map(() => 1));
  return likelihoods.map((own) => {
    const before = product;
    if (own !== null) product = shared(product.map((weight, k) => weight * own[k]!));
    return before;
  });
}

/** From the hands to a step, or back. */
function alike(belief: SpreadBelief): SpreadBelief {
  const near = (1 - ALIKE.any) * ((1 - ALIKE.same) / 2);
  const at = (i: number): number => belief[Math.min(belief.length - 1, Math.max(0, i))]!;
  const any = (ALIKE.any / belief.length) * belief.reduce((sum, weight) => sum + weight, 0);
  return belief.map((weight, i) => any + (1 - ALIKE.any) * ALIKE.same * weight + near * (at(i - 1) + at(i + 1)));
}

function shared(belief: SpreadBelief): SpreadBelief {
  const total = belief.reduce((sum, weight) => sum + weight, 0);
  return belief.map((weight) => weight / total);
}

export interface PaceAndSpread {
  readonly pace: Pace;
  readonly spread: SpreadBelief;
}

/** With the pace as it is at each spread, the likely ones: `pace` is all of them joined into one gamma. */
interface LearntPace extends PaceAndSpread {
  readonly likely: readonly LikelyPace[];
}

/** A spread less likely than this is left out. */
const UNLIKELY = 0.002;

/**
 * The belief after these counts. The hours of n units at a pace of r units an hour and a spread of v are a gamma of
 * shape n / v² and mean n / r: with v known the pace stays a gamma, and n units weigh as n / v² Poisson counts
 * (gamma-gamma conjugacy; Gelman and others, "Bayesian Data Analysis", 3rd ed., 2.6 and 2.7, from memory). v is one of
 * `UNIT_SPREADS`, weighed by how likely it makes the counts, whatever the pace. The gammas that come of it are
 * `likely`; joined into the one `pace` they have its mean and its variance, but not its ends: of few counts a spread
 * that is hardly likely makes most of the variance, so that the middle of the one gamma is too wide. The pace is asked
 * with `matchedWeights`, `spread` is as likely as the counts make it without them. O(counts).
 */
export function learnPaceAndSpread(prior: PaceAndSpread, counts: readonly WorkedUnits[]): LearntPace {
  if (counts.length === 0) return { ...prior, likely: [{ ...prior.pace, weight: 1 }] };
  const learnt = UNIT_SPREADS.map((spread) => learnAtSpread(prior.pace, counts, spread ** 2));
  const most = Math.max(...learnt.map(({ logEvidence }) => logEvidence));
  const spread = shared(learnt.map(({ logEvidence }, i) => prior.spread[i]! * Math.exp(logEvidence - most)));
  const matched = matchedWeights(prior.pace, counts);
  const weights = shared(spread.map((weight, i) => weight * matched[i]!));
  const paces = learnt.map(({ pace }) => pace);
  const pace = joined(paces, weights);
  return { pace, spread, likely: likelyOf(paces, weights) ?? [{ ...pace, weight: 1 }] };
}

/**
 * How much more each of `UNIT_SPREADS` weighs where the pace is asked for. At a spread of v the interval is about 1 /
 * √(shape + n / v²) wide. Where v is taken for too much, the estimate (`shape`) keeps the interval narrow all the same;
 * where v is taken for too little, nothing widens it. So with even weights the truth is held too seldom at spreads at
 * which the estimate still counts. It is held as often as it should at each v, to the order of one in the number of
 * counts, where the weight over log v is the information about log v (about the same at each v) by the derivative of
 * the logarithm of the width, here the share of the counts in the pace, (n / v²) / (shape + n / v²) (G. Datta, R.
 * Mukerjee, M. Ghosh and T. Sweeting, "Bayesian prediction with approximate frequentist validity", Annals of Statistics
 * 28, 2000, the case of one parameter, from memory). The power 1 - 1 / counts is 1 to that order, and 0 for a single
 * count, which says nothing of how units scatter.
 */
function matchedWeights({ shape }: Pace, counts: readonly WorkedUnits[]): number[] {
  const telling = counts.filter(({ isTooQuick }) => isTooQuick !== true);
  if (telling.length < 2) return UNIT_SPREADS.map(() => 1);
  const units = telling.reduce((sum, { units: n, weight = 1 }) => sum + weight * n, 0);
  return UNIT_SPREADS.map((spread) => (1 + (shape * spread ** 2) / units) ** (1 - 1 / telling.length));
}

/** Null where one of them is as weak as one unit and has no mean minutes. */
function likelyOf(paces: readonly Pace[], weights: readonly number[]): LikelyPace[] | null {
  const kept = paces.map((pace, i) => ({ ...pace, weight: weights[i]! })).filter(({ weight }) => weight > UNLIKELY);
  if (kept.some(({ shape }) => shape <= 1)) return null;
  const total = kept.reduce((sum, { weight }) => sum + weight, 0);
  return kept.map((pace) => ({ ...pace, weight: pace.weight / total }));
}

/** The mean of the belief about the spread. */
export function meanSpread(belief: SpreadBelief): number {
  const total = belief.reduce((sum, weight) => sum + weight, 0);
  return belief.reduce((sum, weight, i) => sum + weight * UNIT_SPREADS[i]!, 0) / total;
}

/**
 * The pace where v² is known, and the logarithm of how likely that makes the counts (their gamma densities, the
 * pace integrated out).
 */
function learnAtSpread(
  { shape, hours }: Pace,
  counts: readonly WorkedUnits[],
  variance: number,
): { readonly pace: Pace; readonly logEvidence: number } {
  let [toldShape, toldHours, otherShape, otherHours, density] = [shape, hours, 0, 0, 0];
  for (const { units, hours: taken, weight = 1, isTooQuick = false } of counts) {
    const worth = weight / (isTooQuick ? Math.max(1, variance) : variance);
    const [k, t] = [worth * units, worth * taken];
    if (isTooQuick) {
      otherShape += k;
      otherHours += t;
      continue;
    }
    toldShape += k;
    toldHours += t;
    density += (k - 1) * Math.log(t) - lnGamma(k) - Math.log(variance);
  }
  const logEvidence =
    density + shape * Math.log(hours) - lnGamma(shape) + lnGamma(toldShape) - toldShape * Math.log(toldHours);
  return { pace: { shape: toldShape + otherShape, hours: toldHours + otherHours }, logEvidence };
}

/**
 * The gamma with the mean minutes of these gammas, so weighed, and with the coefficient of variation of their paces.
 */
function joined(paces: readonly Pace[], weights: readonly number[]): Pace {
  let [mean, square, minutes] = [0, 0, 0];
  paces.forEach(({ shape, hours }, i) => {
    mean += (weights[i]! * shape) / hours;
    square += (weights[i]! * shape * (shape + 1)) / hours ** 2;
    minutes += (weights[i]! * hours) / (shape - 1);
  });
  const shape = mean ** 2 / (square - mean ** 2);
  // A belief as weak as one unit has no mean minutes; its mean pace stays.
  const hasMinutes = shape > 1 && paces.every((pace) => pace.shape > 1);
  return { shape, hours: hasMinutes ? minutes * (shape - 1) : shape / mean };
}
