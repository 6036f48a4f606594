/** A case: what is planned, and what of it is replaced. Every question of "what if" is a case like any other. */
import type { Build, LogEntry } from '../../model/index.ts';
import type { MeasuredPace } from '../02-steps/index.ts';
import type { KeptSchedule, LevelOptions } from '../07-levelling/index.ts';
import type { Instant } from '../types.ts';

/**
 * A build, its log and an instant, with what replaces what they say. Another case is a copy with something else in it.
 *
 *     workThrough({ build, log, now }, 'schedules') // as it is
 *     workThrough({ ...asked, build: changed }, 'schedules') // an option
 *     workThrough({ ...asked, overrides: new Map([['panels', 4]]) }, 'work') // what four panels would leave to do
 *     workThrough({ ...asked, log: [], now: begin }, 'work') // before anything was counted
 */
export interface Case extends Replaced {
  readonly build: Build;
  readonly log: readonly LogEntry[];
  /** Whole minutes since the epoch. */
  readonly now: Instant;
}

/** What does not come from build and log, each left out where it does. */
export interface Replaced {
  /** Values in place of parameters, by name. */
  readonly overrides?: ReadonlyMap<string, number>;
  /**
   * Paces in place of what the log says, by step: a step that is not among them goes by its estimate, whatever was
   * counted. For a few others than those of a planned case: `new Map([...measuredPaces(planned.paces), ['sand',
   * pace]])`.
   */
  readonly paces?: ReadonlyMap<string, MeasuredPace>;
  /**
   * By step, how many times as long as thought its machine runs and its waits take, in place of what the log says; a
   * step that is not among them goes by its estimate.
   */
  readonly runs?: ReadonlyMap<string, number>;
  /** What stood on the sheets before (`keptScheduleOf`): kept unless a change of it gains real time. */
  readonly former?: KeptSchedule;
  /** The plan that the counts are compared with, as it was kept; left out: that of the build as it is. */
  readonly first?: KeptBaseline;
  /** Seed and budget of the levelling search; seed 1 and the levelling's own budget unless given. */
  readonly levelling?: LevelOptions;
}

/**
 * The plan of a build before anything was counted, as plain data: what was to be left at each instant, with its
 * revision.
 */
export interface KeptBaseline {
  readonly revision: number;
  /** All steps together, in minutes of hands. */
  readonly all: readonly (readonly [at: Instant, left: number])[];
  /** By step, in its units. */
  readonly steps: readonly (readonly [step: string, line: readonly (readonly [at: Instant, left: number])[]])[];
}
