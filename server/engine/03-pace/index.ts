/** What counting says of the minutes a unit. */

/** How wrong estimates usually are. */
export { ESTIMATE_SPREAD, RUN_SPREAD } from './estimate-spread.ts';
/** How long a unit takes, from what was counted and what was thought before. */
export { measuredPaces, paceDoubts, pacesOf, type StepPace, substitutedPaces } from './pace.ts';
/** One of the beliefs that a pace is made of. */
export type { LikelyPace } from './pace-model.ts';

/** How long a machine's runs, and waits in the middle of work, really take. */
export { type RunTime, runFactors, runTimesOf } from './run-times.ts';
