/** The stages in their order, from a build to schedules. */

/** What is made already, and when it was. */
export { madeAt } from './made.ts';

/** What all answers are made from: one build, worked through once. */
export type { Planned } from './planned.ts';

/** The stages in their order, from a build, its log and an instant to schedules. */
export { runStages, type StageOptions } from './run-stages.ts';
