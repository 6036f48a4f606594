/**
 * Levelling: schedules that the hands and machines there are can really do, and what no order of work can beat. How the
 * parts follow from each other, from the work to its schedule:
 *
 * 1. `instance/`: `compile` lays a `Work` (lots, phases, links, calendars) out as two flat instances, forwards in time
 *    and mirrored; textbook works run in ticks without calendars.
 * 2. `generate/`: an activity list (an order of lots that keeps the links) becomes one schedule: serial generation
 *    places each lot in turn at the earliest time that its links, people, machines and stations allow. What somebody
 *    must come back for after a run or a wait has a turn of its own, when hands are free.
 * 3. `bounds/`: the earliest finish that no activity list can beat: chains of links, energy of groups in windows,
 *    supposed ends that are ruled out, and for small textbook works an exact search.
 * 4. `search/`: from a few priority lists, each schedule is justified (backwards in the mirror, forwards again); good
 *    lists are crossed at their peaks and varied until the budget is spent or the bound is met; then `hands-search`
 *    varies what no list says: who does a phase, and what waits for other work. The result is a list with `Choices`.
 * 5. `replan/`: `settle` weighs the best schedule against the one on the sheets, which stays unless real time is
 *    gained; `ways` are the policies by which futures go on, `why` reads the chain that drives the makespan.
 *
 * `level` (forwards, with its proof) and `levelBackwards` (last moments) run these parts. `generateUnlimited` in
 * `generate/` is not the critical path of the answers: it is the pass without resources in the instance's own minutes,
 * for priorities and bounds, where `06-critical-path` is exact in both directions for what the pages show.
 */

/** What no order of work can beat. */
export { boundOf } from './bounds/bounds.ts';
/** What is chosen for the phases of lots. */
export { choose, withChoices } from './generate/choices.ts';
/** A work compiled once, and one pass over it with other minutes: what the risk stage runs thousands of times. */
export { type CompiledForward, compile, compileForward, type Dispatched, dispatch } from './generate/compiled.ts';
/** Days that people lose in a future. */
export { loseDays } from './instance/lose-days.ts';
/** Forwards from now, backwards from the event, and the room between. */
export { type Levelled, type LevelOptions, latestSchedule, level, levelBackwards, remembered } from './level.ts';
/**
 * What a forecast said of who does what when, for the next one to compare with: lots told by their units, not by their
 * numbers.
 */
export { type KeptSchedule, keptScheduleOf, previousScheduleIn, withAsked } from './replan/kept-schedule.ts';
/** Re-plans that leave the day's sheet alone. */
export { MINUTES_PER_UPSET, type PreviousSchedule } from './replan/stable.ts';
/** How the work may go on once it goes otherwise than planned. */
export { orderOfSheet, waysOf } from './replan/ways.ts';
/** The chain of lots that drives the end. */
export { type Cause, type DrivingLink, drivingChain, startLink } from './replan/why.ts';
/** What people are working on at this minute: whoever's run clock is on keeps their lot in their hands. */
export { withWorkInHand } from './replan/work-in-hand.ts';
/** The order in which schedules are preferred. */
export { CRITERIA } from './search/objective.ts';
