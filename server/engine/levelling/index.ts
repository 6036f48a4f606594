/** Levelling: schedules that the hands and machines there are can really do, and what no order of work can beat. */

/** What no order of work can beat. */
export { type Bound, boundOf } from './bounds.ts';
/** What is chosen for the phases of lots. */
export { type Choices, choose, withChoices } from './choices.ts';
/** A work compiled once, and one pass over it with other minutes: what the risk stage runs thousands of times. */
export {
  type Compiled,
  type CompiledForward,
  compile,
  compileForward,
  type Dispatched,
  dispatch,
} from './compiled.ts';
/** Forwards from now, backwards from the event, and the room between. */
export { type Levelled, type LevelOptions, level, levelBackwards, remembered, roomOf, type Verdict } from './level.ts';
/** The order in which schedules are preferred. */
export { CRITERIA } from './objective.ts';
/** Re-plans that leave the day's sheet alone. */
export { DRIFT_MINUTES, MINUTES_PER_UPSET, type PreviousLot, type PreviousPlan, previousPlanOf } from './stable.ts';
/** How the work may go on once it goes otherwise than planned. */
export { waysOf } from './ways.ts';
/** The chain of lots that drives the end. */
export { type Cause, type DrivingLink, drivingChain, startLink } from './why.ts';
