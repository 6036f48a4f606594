/** What counting says of the minutes a unit. */

/** How long a unit takes, from what was counted and what was thought before. */
export { ESTIMATE_SPREAD, measuredPaces, paceDoubts, pacesGiven, pacesOf, type StepPace } from './pace.ts';
