/** Is the plan sound as a plan? */

/** What in a log or a build looks as if somebody should look at it. */
export { doubtsOf } from './ground-doubts.ts';
/** Is the plan sound as a plan? */
export { soundnessOf } from './soundness.ts';
/** The gates of a build with the steps that each comes after. */
export { type SigningGate, signingGates } from './soundness-safety.ts';
