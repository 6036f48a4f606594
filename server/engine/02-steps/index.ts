/** Each kind of work: its units, what is left of them, and its work pattern in minutes. */

/** Units that were counted a moment ago still dry, cure or cool for as long as the last waits of their step say. */
export { countedAt, dryingMinutes, dryUnits, lastCountOf } from './drying.ts';
/** What is known of a gate's chance to fail. */
export { failChanceOf, triesOf } from './gate-tries.ts';
/** Which phase of a step goes on by itself once it is begun. */
export { phaseBegun } from './phase-begun.ts';

/** Lots that the maker fixed to a time or to people: what a step's pins come to, and what is wrong with them. */
export { pinsOf } from './pins.ts';
/**
 * What each step of a build comes to: its units by set, what of them is left after the log, and its work pattern in
 * minutes.
 */
export {
  isPacedByLot,
  pacedPhase,
  phasesByThemselves,
  plannedStepsOf,
  withPaces,
  withRunFactors,
} from './planned-steps.ts';
/** A step as the rest of the engine knows it: its units by set and its work pattern. */
export type { PinnedUnits, PlannedSet, PlannedStep } from './step.ts';
/** The work pattern of a step in minutes: its phases with the hands, machines and suppliers they need. */
export type { MeasuredPace, PlannedHands, PlannedLead, PlannedPhase } from './step-phases.ts';
/** What deliveries say of a supplier's lead times. */
export { leadOf, learntLeads } from './supplier-leads.ts';

/** Minutes of hands that a unit of a step takes. */
export { nextUnitMinutes, unitsOfLot } from './unit-minutes.ts';
