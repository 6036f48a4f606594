/** What has happened: the entries of the log and what they come to. */

/** Pauses that nobody logged. */
export { withPauses } from './clock-pauses.ts';

/** What the log says has happened: the counts by step and set, and what is under way. */
export {
  emptyStep,
  inOrder,
  type OpenStart,
  type SetTally,
  type StepTally,
  type Tally,
  type TimedEntry,
  tallyLog,
  timedEntries,
} from './log-tally.ts';
