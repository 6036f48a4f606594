/**
 * The line of balance: steps that feed each other, their units as they pass over time. Instants and minutes as in the
 * forecast.
 */

/** Units that have passed over time, straight lines between. */
type Passing = readonly (readonly [number, number])[];

export interface BalanceStep {
  readonly step: string;
  /** Good units that have passed. */
  readonly passed: number;
  /** Units under way that nobody's hands hurry: an order that is out. */
  readonly onItsWay?: number;
  /** Units that should have passed by now, by the plan that `heldTo` names; null where that is not known. */
  readonly due: number | null;
  /** Until then what has passed is enough for the end to be on time; null where all has passed or it is not known. */
  readonly enoughUntil: number | null;
  /** From now on, as scheduled; ends with all units. */
  readonly scheduled: Passing;
}

/** A step that needs the units of another, as it goes. */
export interface BalanceFeed {
  readonly from: string;
  readonly to: string;
  /** Units of `from` for one of `to`. */
  readonly ratio: number;
  /** Units of `from` that lie before `to` now. */
  readonly waiting: number;
  /**
   * The first time that `to`, once begun, has nothing left of `from`, though somebody is there for half an hour of it
   * or more.
   */
  readonly starves: {
    readonly at: number;
    readonly until: number;
    /** Minutes in which anybody is there, this time; and how often and how long it happens in all. */
    readonly workingMinutes: number;
    readonly times: number;
    readonly inAllMinutes: number;
  } | null;
  /**
   * The most units of `from` that will lie before `to`, more than it takes at a time, and when; of what is delivered at
   * once none is given.
   */
  readonly pile: { readonly at: number; readonly units: number } | null;
}

/** The steps whose units all go into those of one, which feeds none by units itself. */
export interface BalanceChain {
  readonly end: string;
  /** In the order of the route; the last is `end`. `perEnd`: units of the step for one of `end`. */
  readonly steps: readonly { readonly step: string; readonly perEnd: number }[];
}

export interface ForecastBalance {
  readonly steps: readonly BalanceStep[];
  readonly feeds: readonly BalanceFeed[];
  readonly chains: readonly BalanceChain[];
  /**
   * What `due` is of: the latest plan of the whole build that is on time, or where none could have been when it began,
   * the first plan. Left out of what an older program kept: the latest.
   */
  readonly heldTo?: 'latest' | 'first-plan';
}
