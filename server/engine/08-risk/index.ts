/** Risk: thousands of futures of the levelled schedule, what they come to, and what one case is worth beside another. */

/** What one case changes beside another, by the same luck. */
export { compareFutures, type Difference, type FuturesCompared } from './compare-futures.ts';
/** The quantiles, chances and costs that the pages show. */
export { riskAnswer, riskOf } from './risk.ts';
/** Futures as numbers. */
export { type Futures, type RiskOptions, runFutures } from './run-futures.ts';
