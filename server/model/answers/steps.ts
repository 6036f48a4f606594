/** Steps with their counts, pace and state. Instants in minutes since the epoch, lengths in minutes. */
import type { Origin } from '../common.ts';
import type { PaceNote } from '../findings.ts';
import type { Hazard, HazardGuess } from '../step.ts';
import type { Dates, LevelledDates } from './dates.ts';

const STEP_STATES = ['not-begun', 'under-way', 'done'] as const;

export interface StepLink {
  readonly step: string;
  readonly type: string;
  readonly ratio: number | null;
  /**
   * What one unit takes, where others take of the same: they share as they go, and `ratio` is what must have come for
   * each. Left out elsewhere.
   */
  readonly each?: number;
  readonly lagMinutes: number;
  readonly given: 'route' | 'parts' | 'maker' | 'gate' | 'decision';
}

export interface ForecastSet {
  readonly set: number | null;
  readonly total: number;
  readonly done: number;
  /** Good units as counted: `done` as long as they are no more than `total`. */
  readonly counted: number;
  readonly scrapped: number;
  readonly left: number;
}

/** Minutes of hands for the next unit, setups not counted, with the middle 80 % of what it may be. */
export interface ForecastPace {
  readonly minutesPerUnit: number;
  readonly low: number;
  readonly high: number;
  /** Units that were timed, and in how many minutes. */
  readonly units: number;
  readonly minutes: number;
  readonly origin: Origin;
  /** What was expected for these units before they were counted. */
  readonly estimate: number;
  /** What is to be said of it: none where all is as expected. */
  readonly notes: readonly PaceNote[];
  /** Share of the time at each doubling of the units, as planned with; 1 or left out: nothing is learnt. */
  readonly learningRate?: number;
}

/** Minutes of a whole load in a machine, or waiting in the middle of its work, by the loads that are back. */
export interface ForecastRunTime {
  readonly kind: 'run' | 'wait';
  /** As planned with, and the middle 80 % of what it may be. */
  readonly minutes: number;
  readonly low: number;
  readonly high: number;
  /** As thought before. */
  readonly estimate: number;
  /** Loads that came back while somebody was there, and the middle one's minutes until it was counted. */
  readonly loads: number;
  readonly counted: number;
  readonly notes: readonly PaceNote[];
}

/**
 * A phase of a step as it is planned: minutes for a lot and for each unit of it, not rounded, or an order's working
 * days.
 */
export type ForecastPhase =
  | { readonly kind: 'hands' | 'run' | 'wait'; readonly fixedMinutes: number; readonly minutesPerUnit: number }
  | { readonly kind: 'lead'; readonly supplier: string; readonly workingDays: number };

export interface ForecastStep {
  readonly id: string;
  readonly name: string;
  readonly kind: 'step' | 'order' | 'gate';
  readonly part: string | null;
  readonly unit: string;
  readonly state: (typeof STEP_STATES)[number];
  readonly sets: readonly ForecastSet[];
  readonly total: number;
  readonly done: number;
  readonly scrapped: number;
  readonly left: number;
  readonly lotSize: number;
  /**
   * For a gate: the chance that its next try fails, by what was given and by its tries so far. Left out of what is
   * none.
   */
  readonly gate?: { readonly failChance: number; readonly tries: number; readonly failures: number };
  /** Nobody has said how many units a lot is. Left out of what an older program kept. */
  readonly isLotAssumed?: boolean;
  /** Minutes of hands for one more unit, and where that number comes from; null where no hands. */
  readonly handsMinutesPerUnit: number | null;
  readonly runMinutesPerLot: number | null;
  readonly waitMinutesPerLot: number | null;
  readonly origin: Origin | null;
  readonly handsMinutesLeft: number;
  readonly machineMinutesLeft: number;
  /** Its phases in their order. */
  readonly pattern: readonly ForecastPhase[];
  readonly machine: string | null;
  readonly supplier: string | null;
  readonly people: readonly string[];
  readonly peopleAtOnce: number;
  readonly hazards: readonly Hazard[];
  /** Hazards that it probably has, while nobody has said whether it has any. Left out: none. */
  readonly perhaps?: readonly HazardGuess[];
  readonly onSite: boolean;
  readonly fedBy: readonly StepLink[];
  readonly feeds: readonly StepLink[];
  /** Units that can be worked on now with what is here; null when unknown. */
  readonly readyNow: number | null;
  readonly waitsFor: string | null;
  /** A load that runs, an order under way: when it is back. */
  readonly underWay: readonly UnderWay[];
  /**
   * Minutes that a lot waits in the middle of its work, once it was begun; null where none does, or where a machine
   * runs instead.
   */
  readonly middleWaitMinutes: number | null;
  /** What one unit that has passed has in it, by the last step of each part. */
  readonly partsIn: readonly StepUnits[];
  /** For a gate: what a failure sends back. */
  readonly sendsBack: readonly StepUnits[];
  readonly lots: number;
  /** The least slack of its lots and the span of their dates; null when nothing is left. */
  readonly dates: Dates | null;
  readonly levelled: LevelledDates | null;
  readonly lastLogged: number | null;
  /** When a sheet first asked somebody for it since its last entry; null: none has; left out: no sheet is known. */
  readonly askedSince?: number | null;
  /** null where there are no hands a unit. */
  readonly pace?: ForecastPace | null;
  /** Left out as long as no load is back. */
  readonly runTime?: ForecastRunTime;
}

/** This many units of a step. */
export interface StepUnits {
  readonly step: string;
  readonly units: number;
}

export interface UnderWay {
  readonly kind: 'loaded' | 'ordered';
  readonly entry: string;
  readonly set: number | null;
  readonly units: number;
  readonly since: number;
  readonly backAt: number;
  readonly promised: boolean;
  readonly machine: string | null;
}
