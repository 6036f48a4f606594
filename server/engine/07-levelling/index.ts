/** Levelling: schedules that the hands and machines there are can really do, and what no order of work can beat. */

/** What no order of work can beat. */
export { type Bound, boundOf } from './bounds/bounds.ts';
/** What is chosen for the phases of lots. */
export { type Choices, choose, withChoices } from './generate/choices.ts';
/** A work compiled once, and one pass over it with other minutes: what the risk stage runs thousands of times. */
export {
  type Compiled,
  type CompiledForward,
  compile,
  compileForward,
  type Dispatched,
  dispatch,
} from './generate/compiled.ts';
/** Days that people lose in a future. */
export { loseDays } from './instance/compile.ts';
/** Forwards from now, backwards from the event, and the room between. */
export { type Levelled, type LevelOptions, level, levelBackwards, remembered, roomOf, type Verdict } from './level.ts';
/** What a forecast said of who does what when, for the next one to compare with: lots told by their units, not by their numbers. */
export { type FormerPlan, formerPlanOf, previousPlanIn, withAsked } from './replan/former-plan.ts';
/** Re-plans that leave the day's sheet alone. */
export {
  DRIFT_MINUTES,
  MINUTES_PER_UPSET,
  type PreviousLot,
  type PreviousPlan,
  previousPlanOf,
} from './replan/stable.ts';
/** How the work may go on once it goes otherwise than planned. */
export { waysOf } from './replan/ways.ts';
/** The chain of lots that drives the end. */
export { type Cause, type DrivingLink, drivingChain, startLink } from './replan/why.ts';
/** What people are working on at this minute: whoever's run clock is on keeps their lot in their hands. */
export { withWorkInHand } from './replan/work-in-hand.ts';
/** The order in which schedules are preferred. */
export { CRITERIA } from './search/objective.ts';
