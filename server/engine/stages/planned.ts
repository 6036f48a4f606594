/** What the stages hand on: a case worked through so far. */
import type { Build, Problem } from '../../model/index.ts';
import type { Quantities } from '../01-quantities/index.ts';
import type { PlannedStep } from '../02-steps/index.ts';
import type { RunTime, StepPace } from '../03-pace/index.ts';
import type { BuildWork, StepFeed } from '../04-lots/index.ts';
import type { Network } from '../05-network/index.ts';
import type { Levelled, PreviousSchedule } from '../07-levelling/index.ts';
import type { Surroundings } from '../calendar/index.ts';
import type { Tally } from '../log/index.ts';
import type { Instant, Schedule } from '../types.ts';
import type { Case } from './case.ts';

/** What the build, its log and the instant alone say: who and what is there when, and what has happened. */
export interface Ground {
  readonly surroundings: Surroundings;
  /** The same before the log has said how long suppliers really take. */
  readonly asGiven: Surroundings;
  readonly tally: Tally;
  /** Entries that could not be read. */
  readonly unread: readonly Problem[];
}

/** What remains to be done: the steps at their paces, and their lots with the links between them. */
export interface Remaining extends Ground {
  /** What was worked through. */
  readonly asked: Case;
  readonly build: Build;
  readonly now: Instant;
  readonly quantities: Quantities;
  readonly plans: readonly PlannedStep[];
  /** By step, for those with hands a unit: what is believed of their paces, the given ones where the case gives any. */
  readonly paces: ReadonlyMap<string, StepPace>;
  /** By step, for those that the log has loads of: how long their runs and waits take. */
  readonly runTimes: ReadonlyMap<string, RunTime>;
  readonly feeds: readonly StepFeed[];
  readonly work: BuildWork;
  readonly network: Network;
  /** What stood on the sheets before, lot by lot; undefined where nothing did. */
  readonly previous: PreviousSchedule | undefined;
  /** What was found wrong on the way, by stage. */
  readonly found: {
    readonly steps: readonly Problem[];
    readonly feeds: readonly Problem[];
    readonly circles: readonly Problem[];
  };
}

/** The same with the dates of the critical path. */
export interface Dated extends Remaining {
  readonly dates: LotDates;
}

/** The same with its schedules: what all answers are made from. */
export interface Planned extends Dated {
  /** null when nothing could be placed. */
  readonly schedule: Schedule | null;
  /** What no order of work can beat, and whether the schedule meets it; null when there is nothing to place. */
  readonly proof: Pick<Levelled, 'bound' | 'verdict' | 'forgone'> | null;
  /**
   * The latest schedule that keeps the deadlines. Where the hours on site are too few, work there begins before the
   * load-in in it; all that comes before that work ends in time for the load-in, and need not be earlier.
   */
  readonly backwards: Schedule | null;
  /** The latest that never begins on site before the load-in: it ends after the event where hours are missing there. */
  readonly backwardsInTime: Schedule | null;
  readonly beyond: ReadonlySet<number>;
  /** Whether every lot of the schedule that is needed is finished by its deadline. */
  readonly keepsDeadlines: boolean;
  /** The same of its spares, which hold up nothing. */
  readonly sparesKeepDeadlines: boolean;
}

/** Early and late dates and slack of every lot, hands and machines unlimited; arrays by lot, whole minutes. */
export interface LotDates {
  readonly earlyStart: Int32Array;
  readonly earlyFinish: Int32Array;
  readonly lateStart: Int32Array;
  readonly lateFinish: Int32Array;
  readonly totalSlackClock: Int32Array;
  readonly totalSlackWorking: Int32Array;
  readonly freeSlackClock: Int32Array;
  readonly freeSlackWorking: Int32Array;
  readonly slackToOwnEnd: Int32Array;
  readonly slackToEvent: Int32Array;
  readonly critical: readonly boolean[];
  readonly path: readonly number[];
  readonly readyAt: number;
  readonly finishAt: number;
}
