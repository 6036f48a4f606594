/** What thousands of futures of the levelled schedule come to. Instants and lengths as in a forecast. */

/** Instants not passed with chance 10, 50, 80, 90 and 95 in a hundred. */
export interface Quantiles {
  readonly p10: number;
  readonly p50: number;
  readonly p80: number;
  readonly p90: number;
  readonly p95: number;
}

/** A share of the futures and its standard error. */
export interface Chance {
  readonly target: number;
  readonly chance: number;
  readonly error: number;
}

export interface StepRisk {
  readonly step: string;
  /** Share of the futures in which the step is on the chain that drives the end. */
  readonly criticality: number;
  /** Rank correlation of its work with the end; null where one of the two does not vary. */
  readonly cruciality: number | null;
  /**
   * Schedule sensitivity index: criticality times the spread of its work against that of the end; null where the end
   * does not vary.
   */
  readonly sensitivity: number | null;
  /**
   * Clock minutes by which the mean end would be earlier if the step went as planned, for those that move it most, else
   * 0; negative where the plan is on the safe side.
   */
  readonly costMinutes: number;
  /** Standard error of that, in minutes. */
  readonly costError: number;
}

/**
 * What may still be left at each of `instants`, in units of the step, or in minutes of hands for all steps together
 * (null).
 */
export interface BurnFan {
  readonly step: string | null;
  readonly instants: readonly number[];
  /** Left at that instant or less in 10, 50 and 90 of a hundred futures. */
  readonly p10: readonly number[];
  readonly p50: readonly number[];
  readonly p90: readonly number[];
  /** When the last unit is done. */
  readonly lastUnitAt: Quantiles;
}

/** What thousands of futures of the levelled schedule come to. */
export interface ForecastRisk {
  readonly futures: number;
  readonly seed: number;
  readonly readyBy: Chance;
  readonly loadIn: Chance | null;
  readonly event: Chance;
  /** The same of what has a due instant of its own and is not finished. */
  readonly dues?: readonly (Chance & { readonly list: 'parts' | 'steps'; readonly id: string })[];
  readonly readyAt: Quantiles;
  readonly finishAt: Quantiles;
  readonly steps: readonly StepRisk[];
  /** Working days lost in a hundred, as drawn on average. */
  readonly lostDaysPerHundred: number;
  /** Futures in which something could not be placed at all; they count as late. */
  readonly beyond: number;
  /** Until when anybody's hours go: a later quantile is no date. Left out where the work needs no hours. */
  readonly until?: number;
  /** All steps together first, then each step with units left. */
  readonly fans?: readonly BurnFan[];
}

/** An older state of the ground: its edit, the last entry of its log, and when it was drawn. */
export interface RiskFrom {
  readonly revision: number;
  readonly logSeq: number;
  readonly computedAt: number;
}

/** How much more the second of two cases comes to, and the standard error of that. */
export interface Difference {
  readonly mean: number;
  readonly error: number;
}

/** What one case changes beside another, future by future with the same luck. */
export interface FuturesCompared {
  /** Futures that were compared: as many as both cases have. */
  readonly futures: number;
  /** Minutes by which the workshop is ready later; below 0 where it is earlier. */
  readonly readyAt: Difference;
  /** The same of the end of all work. */
  readonly finishAt: Difference;
  /** By how much the chance to be ready by the ready-by is greater, each case by its own; from -1 to 1. */
  readonly readyBy: Difference;
  /** The same of the chance to be finished by the event. */
  readonly event: Difference;
}
