/** What remains to be done: lots and the links between them. */

/** Minutes of hands that went into what is done. */
export { handsDone } from './hands-done.ts';

/** Units of lots, and the minutes of hands that they still take. */
export { handsMinutesOf, handsOf, handsPerUnit, unitsOf } from './lot-hands.ts';

/** The phases of one lot, in whole minutes, so that the lots of a step add up to the whole. */
export { phaseMinutes, phasesOfLot } from './lot-phases.ts';

/** The lots of one step. */
export { lotsOfStep } from './lot-run.ts';

/** Who lends whom, where the shares of the sets in the units of two steps do not come out even. */
export { borrowedBySet } from './set-shares.ts';

/** Who feeds whom, step by step: routes and parts imply most feeds, the maker types the rest. */
export { type GateHold, routesOf, type StepFeed, stepFeedsOf } from './step-feeds.ts';

/** The steps and their feeds as a graph: what is alone, and in what order the steps follow. */
export { orphanProblems } from './step-graph.ts';

/** How many units of one step a number of units of the next takes, and in which order they come. */
export { doneBehind, placesOfLots, unitsFedBy, unitsNeeded } from './unit-needs.ts';

/** From counts, paces and the log to the lots that remain, each a chain of phases, and the links between them. */
export { type BuildWork, backAtOf, workOf } from './work.ts';
