/** Mathematics without any time in it. */

/** An order in which everything comes after what it needs, and the circles that prevent one. */
export { dependencyOrder, describeCircle } from './dependency-order.ts';

/** Probability distributions: densities, cumulative chances, quantiles. */
export {
  betaShares,
  binomialCdf,
  binomialTail,
  gammaCdf,
  gammaMixtureQuantile,
  gammaQuantile,
  normalQuantile,
} from './distributions.ts';
/** Grouping by a key. */
export { groupedBy, indicesByGroup } from './group.ts';
/** Learning curves: each doubling of the units made multiplies the minutes by `rate` (0.85: 15 % less). */
export { firstUnitMinutesFromLot, fitLearning, learningExponent, lotMinutes } from './learning.ts';
/** The method of line of balance on plain numbers. */
export { type DeliveryPlan, stationsForTakt, taktMinutes, unitsThatShouldHavePassed } from './line-of-balance.ts';
/**
 * Seeded random numbers: the only source of chance in the engine, so that the same seed gives the same plan and the
 * same futures on every machine.
 */
export { Random } from './random.ts';
/** Rounding for things that are counted. */
export { ceilCount, floorCount, isNearlyEqual, isNearlyWhole } from './rounding.ts';
/** The logarithm of the gamma function, and what is made of it. */
export { lnGamma, scaledErfc, trigamma } from './special-functions.ts';
/** Three-point estimates: means, variances and the beta-PERT distribution. */
export { betaPertMoments, betaPertQuantile, type ThreePoint, tabulateQuantile, threePointMean } from './three-point.ts';
/** How many to start so that enough come out good. */
export {
  chanceOfEnough,
  grossForWaste,
  packsToBuy,
  sparesFor,
  sparesForShare,
  unitsAlong,
  unitsToBuy,
  unitsToStart,
} from './yield.ts';
