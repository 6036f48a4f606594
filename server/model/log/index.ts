/**
 * The log's own rules, for engine, planner and phone alike: pure functions that import nothing, so that the phone's
 * page can hold them too. Whatever a further kind of entry means is said here, once.
 */

export { type ClockEntry, hear, ownerOf, type RunningClock, runningClocks } from './clocks.ts';
export { type Counting, effectOf, unitsWorked } from './effect.ts';
export { LOG_KINDS, type LogKind } from './kinds.ts';
export { rootOf, standingAmong, standingEntries, type Undoing } from './standing.ts';
