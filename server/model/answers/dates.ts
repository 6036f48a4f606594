/**
 * Dates of steps and lots, room, what is asked of the hands, and why the date is what it is.
 * Instants in minutes since the epoch, lengths in minutes.
 */

/** What a run of lots waited for before it began; `begun`: it is under way, `release`: it may not begin earlier. */
const WAITED_KINDS = [
  'units',
  'step',
  'gate',
  'supplier',
  'hands',
  'machine',
  'station',
  'pinned',
  'release',
  'begun',
  'now',
] as const;

/**
 * Early and late dates with hands and machines unlimited; what can slip in clock and in working minutes. Negative:
 * late. Null where there is none to say: beyond the calendars, or in or behind a circle of links.
 */
export interface Dates {
  /**
   * When it begins to be finished at its earliest. It may begin before that, by slower hands or to wait, but ends no
   * earlier for it.
   */
  readonly earlyStart: number | null;
  /** No order of work finishes it before. */
  readonly earlyFinish: number | null;
  /** Latest that keeps the ready-by (workshop) or the event (site). */
  readonly lateStart: number | null;
  readonly lateFinish: number | null;
  readonly totalSlackClock: number | null;
  readonly totalSlackWorking: number | null;
  readonly freeSlackClock: number | null;
  readonly freeSlackWorking: number | null;
  /** Slack to the network's own end: zero on the critical path. */
  readonly slackToOwnEnd: number | null;
  /** Slack to the event itself, for what counts to the ready-by. */
  readonly slackToEvent: number | null;
  readonly critical: boolean;
}

/** Where a lot is in the schedule that the hands and machines can really do; null when it could not be placed. */
export interface LevelledDates {
  readonly start: number;
  readonly finish: number;
  /** Last moment under hands and machines, scheduled backwards from the ready-by and the event. */
  readonly lastStart: number | null;
  readonly lastFinish: number | null;
  /**
   * Room under hands and machines, in clock minutes: how much later than planned it may still begin, or, where it ends
   * after its last moment, by how much it is too late, below zero.
   */
  readonly room?: number | null;
}

export interface ForecastPlacement {
  readonly kind: 'hands' | 'run' | 'wait' | 'lead' | 'demand';
  readonly start: number;
  readonly finish: number;
  readonly people: readonly string[];
  readonly machine: string | null;
  readonly machineUnit: number | null;
}

export interface ForecastLot {
  readonly id: string;
  readonly step: string;
  readonly set: number | null;
  readonly number: number;
  readonly firstUnit: number;
  readonly lastUnit: number;
  readonly begun: boolean;
  /** Fixed by the maker to a time or to people. */
  readonly pinned?: boolean;
  readonly dates: Dates;
  readonly levelled: LevelledDates | null;
  readonly placements: readonly ForecastPlacement[];
}

/** Room to one of the fixed instants: finish (levelled) against it, negative when late. */
export interface Room {
  readonly target: number;
  readonly finish: number | null;
  readonly clock: number | null;
  readonly working: number | null;
  /** The same with hands and machines unlimited: what no order of work can beat. */
  readonly unlimitedFinish: number | null;
  readonly unlimitedClock: number | null;
  /**
   * Minutes of hands that the work on site needs, at the least, beyond those that there are between the load-in and the
   * event: in the room to the event alone. Left out where none are missing.
   */
  readonly missingHands?: number;
}

/** Needed against offered before the ready-by, for a group of hands that can stand in for each other, or a machine. */
export interface CapacityGroup {
  readonly id: string;
  readonly name: string;
  readonly kind: 'people' | 'machine';
  readonly members: readonly string[];
  /** The work before the ready-by, without spares, which have until the event. */
  readonly neededMinutes: number;
  /** Spares, beside it; left out where there are none. */
  readonly spareMinutes?: number;
  readonly offeredMinutes: number;
  /** Positive when it cannot be done. */
  readonly shortMinutes: number;
  /** The first minute by which the hours offered cover what is needed; null when they never do. */
  readonly coveredAt: number | null;
  /** The first 101 of the days up to the ready-by. */
  readonly days: readonly {
    readonly date: string;
    readonly offeredMinutes: number;
    readonly cumulativeMinutes: number;
  }[];
}

export interface LowerBound {
  /** No order of work finishes the workshop's part earlier. */
  readonly readyAt: number;
  readonly by: 'critical-path' | 'hands' | 'machine' | 'search';
  /** Whose hours say so, by name. */
  readonly resource: string | null;
  readonly windowStart: number | null;
  readonly windowEnd: number | null;
  readonly shortMinutes: number;
  readonly verdict: 'proved-best' | 'gap' | 'impossible';
}

/** Lots of one step that follow each other on the chain that drives the ready finish. */
export interface WhyLine {
  readonly step: string;
  /** null where they are of several sets, or of the whole. */
  readonly set: number | null;
  readonly lots: number;
  readonly firstUnit: number;
  readonly lastUnit: number;
  readonly start: number;
  readonly finish: number;
  /** Names of those whose hands do it, of its machine, of its supplier. */
  readonly people: readonly string[];
  readonly machine: string | null;
  readonly supplier: string | null;
  /** `step`: the one waited for, or the one that `who` (a person, a machine, a place) was taken by. */
  readonly waited: {
    readonly kind: (typeof WAITED_KINDS)[number];
    readonly step: string | null;
    readonly who: string | null;
  };
  /**
   * The longest time on the way that nothing stood against but that those who do it were not there, or the machine
   * might not run; else null.
   */
  readonly stood: { readonly from: number; readonly to: number } | null;
}
