/** What all answers are made from: one build, worked through once. */
import type { Build } from '../../model/index.ts';
import type { Quantities } from '../01-quantities/index.ts';
import type { StepPlan } from '../02-steps/index.ts';
import type { StepPace } from '../03-pace/index.ts';
import type { BuildWork, StepFeed } from '../04-lots/index.ts';
import type { Levelled } from '../07-levelling/index.ts';
import type { Setting } from '../calendar/index.ts';
import type { Tally } from '../log/index.ts';
import type { Schedule } from '../types.ts';

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

export interface Planned {
  readonly build: Build;
  readonly now: number;
  readonly setting: Setting;
  readonly quantities: Quantities;
  readonly tally: Tally;
  readonly plans: readonly StepPlan[];
  /** By step, for those with hands a unit; empty where paces were given. */
  readonly paces: ReadonlyMap<string, StepPace>;
  readonly feeds: readonly StepFeed[];
  readonly work: BuildWork;
  readonly dates: LotDates;
  /** null when nothing could be placed. */
  readonly schedule: Schedule | null;
  /** What no order of work can beat, and whether the schedule meets it; null when there is nothing to place. */
  readonly proof: Pick<Levelled, 'bound' | 'verdict' | 'forgone'> | null;
  /** The latest schedule that keeps the deadlines. */
  readonly backwards: Schedule | null;
  readonly beyond: ReadonlySet<number>;
  /** Whether every lot of the schedule is finished by its deadline. */
  readonly keepsDeadlines: boolean;
}
