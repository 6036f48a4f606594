/**
 * Risk: thousands of futures of the levelled schedule, what they come to, and what one case is worth beside another.
 * How the parts follow from each other:
 *
 * 1. `parameter-worlds` sets the uncertain parameters to a few values; each makes a `World`: the lots at those counts,
 *    compiled once.
 * 2. `draws` says what is uncertain in a world (pace, leads, gates, scrap), `lost-days` which days get lost, and
 *    `streams` gives future n of a step the same luck in every case (common random numbers).
 * 3. `World.run(n)` draws future n and dispatches the lots again by a way of working (`ways` of levelling).
 * 4. `runFutures` adds futures up in a `Tally` (ends, who drove them, what a step cost) and `Fans` (what is left when),
 *    until the chance is known well enough.
 * 5. `riskAnswer` words them as quantiles, chances and indices; `compareEnds` pairs those of two cases.
 */

/** Few futures of a changed plan beside the many of the plan as it is. */
export { besideKnown, type Drawn } from './beside-known.ts';
/** What one case changes beside another, by the same luck. */
export { compareEnds, endsOf, type FutureEnds } from './compare-futures.ts';
/** The ends of futures alone, drawn a few at a time. */
export { drawEnds, type EndsDrawn } from './draw-ends.ts';
/** The quantiles, chances and costs that the pages show. */
export { riskAnswer, riskOf } from './risk.ts';
/** Futures as numbers. */
export { type Futures, type RiskOptions, runFutures } from './run-futures.ts';
/** The standard error of a share. */
export { shareError } from './statistics.ts';
