/**
 * The engine's own vocabulary: what the stages hand to each other.
 *
 * Every instant is a whole number of minutes since 1970-01-01T00:00Z; every length of time is a whole number of
 * minutes. Both fit a 32-bit integer until the year 6053. Only `clock.ts` turns them into dates.
 */

export type Instant = number;
export type Minutes = number;

/**
 * Open time: sorted, disjoint, half-open intervals [opens[i], closes[i]). `openBefore[i]` counts the open minutes
 * before opens[i].
 */
export interface Calendar {
  readonly opens: Int32Array;
  readonly closes: Int32Array;
  readonly openBefore: Int32Array;
}

/**
 * A supplier's answer to "if it is ordered by then, when is it here?": an order placed at t arrives at arrivals[i] for
 * the least i with cutoffs[i] >= t. Both arrays rise; the table covers the whole horizon.
 */
export interface ArrivalTable {
  readonly cutoffs: Int32Array;
  readonly arrivals: Int32Array;
}

const RESOURCE_KINDS = ['person', 'machine', 'station', 'pool'] as const;
type ResourceKind = (typeof RESOURCE_KINDS)[number];

/**
 * Whoever or whatever limits how much is done at once. A person has capacity 1; a machine has as many as there are
 * alike; a station caps the lots of one step that are under way together; a pool is a renewable resource of the
 * textbooks.
 */
export interface Resource {
  readonly id: string;
  readonly name: string;
  readonly kind: ResourceKind;
  readonly capacity: number;
  readonly open: Calendar;
  /** Stretches in which one of several alike is out of order, each of one of them. Left out: none. */
  readonly out?: readonly (readonly [from: Instant, until: Instant])[];
}

/**
 * People's working minutes. They pause while the chosen people are away and go on afterwards, unless `oneGo`, when the
 * whole phase must lie inside one open interval. With `people` > 1 all of them work at the same time, in minutes that
 * all of them have. `open` is when at least `people` of the eligible are there: the calendar of the unlimited passes.
 */
export interface HandsPhase {
  readonly kind: 'hands';
  readonly minutes: Minutes;
  readonly people: number;
  readonly eligible: readonly number[];
  readonly oneGo: boolean;
  readonly open: Calendar;
}

/**
 * A machine's clock minutes, without a pause, inside one open interval of the machine. Attended runs also hold `people`
 * of the eligible for the same minutes; people and machine must both be there throughout (people 0 when unattended).
 * The machine is taken from the start of the hands phase just before (loading) and given back at the end of the hands
 * phase just after (unloading); between the end of the run and the start of the unloading it stands and waits. `open`
 * is when a start-to-end run may be there, people counted: the calendar of the unlimited passes.
 */
export interface RunPhase {
  readonly kind: 'run';
  readonly minutes: Minutes;
  readonly machine: number;
  readonly attended: boolean;
  readonly people: number;
  readonly eligible: readonly number[];
  readonly open: Calendar;
}

/** Clock minutes that need nobody: cure, dry, cool, soak, or a plain duration of a textbook. */
export interface WaitPhase {
  readonly kind: 'wait';
  readonly minutes: Minutes;
}

/** From the order to the arrival, through the supplier's calendar. */
interface LeadPhase {
  readonly kind: 'lead';
  readonly workingDays: number;
  readonly arrivals: ArrivalTable;
}

/** Clock minutes that take amounts of renewable resources, without a pause: the activity of the benchmark sets. */
interface DemandPhase {
  readonly kind: 'demand';
  readonly minutes: Minutes;
  readonly demands: readonly { readonly resource: number; readonly amount: number }[];
}

export type Phase = HandsPhase | RunPhase | WaitPhase | LeadPhase | DemandPhase;

/**
 * A run of units of one step that is done in one go: what is scheduled. Its phases follow each other without a gap,
 * save that a phase that needs people after a run or a wait begins when they are there (the machine stands and waits).
 * A lot without phases is a milestone: it starts and finishes at the same instant.
 */
export interface Lot {
  readonly id: string;
  readonly step: number;
  /** 1-based; null where the step is for the whole. */
  readonly set: number | null;
  /** 1-based among the lots of this step and set. */
  readonly number: number;
  /** Absolute units covered, 1-based and inclusive, counted over all sets; 0 and -1 for a milestone. */
  readonly firstUnit: number;
  readonly lastUnit: number;
  readonly phases: readonly Phase[];
  /** May not start earlier. */
  readonly release: Instant;
  /** What it must be finished by: the ready-by in the workshop, the event on site. */
  readonly deadline: Instant;
  /**
   * Already under way: the first of `phases` began at exactly this instant (which may be before now) and is not asked
   * about open time.
   */
  readonly begunAt: Instant | null;
  /**
   * Fixed by the maker: not to start before / to be done by those of these people who may do the phase, where any of
   * them may.
   */
  readonly pinnedStart: Instant | null;
  readonly pinnedPeople: readonly number[] | null;
  /** Where in the build it is pinned; left out where it is not. */
  readonly pin?: string;
  /**
   * Who was to do each phase on the sheet before: in a plan made after it they keep it unless others are done
   * earlier by some minutes. Left out: nobody was.
   */
  readonly formerPeople?: readonly (readonly number[])[];
  /**
   * By phase: who does it whoever would end it first, and before when it does not begin, where the search chose so.
   * Left out: nothing is chosen.
   */
  readonly chosen?: readonly { readonly people: readonly number[] | null; readonly notBefore: Instant | null }[];
  /** The resource that caps how many lots of this step are under way together, from first start to last finish. */
  readonly station: number | null;
  /** Needed for the ready-by (workshop work) as opposed to work on site after the load-in. */
  readonly onSite: boolean;
  /** Spares and nothing else: it holds up no end, neither the workshop's nor that of all. Left out: it is needed. */
  readonly spare?: boolean;
}

export const LINK_TYPES = ['finish-start', 'start-start', 'finish-finish', 'start-finish'] as const;
export type LinkType = (typeof LINK_TYPES)[number];

/** Why a link is there; `order`: lots of one step begin in the order of their units (not counted in free slack). */
const LINK_REASONS = ['units', 'route', 'feed', 'gate', 'decision', 'group', 'order'] as const;
export type LinkReason = (typeof LINK_REASONS)[number];

/**
 * A precedence of the precedence diagramming method between two lots (indices). The lag may be negative. With
 * `lagOpen` it counts the minutes open in that calendar, without it clock minutes.
 */
export interface Link {
  readonly from: number;
  readonly to: number;
  readonly type: LinkType;
  readonly lagMinutes: Minutes;
  readonly lagOpen: Calendar | null;
  readonly reason: LinkReason;
}

/** What remains to be done: the input of network, critical path, levelling and risk. */
export interface Work {
  readonly now: Instant;
  readonly readyBy: Instant;
  readonly loadIn: Instant | null;
  readonly event: Instant;
  readonly resources: readonly Resource[];
  readonly lots: readonly Lot[];
  readonly links: readonly Link[];
  /** When work is night work; left out: never. */
  readonly nights?: Calendar;
}

/** Where one phase of a lot is in a schedule, who does it and on which of the alike machines (0-based). */
export interface Placement {
  readonly lot: number;
  readonly phase: number;
  readonly start: Instant;
  readonly finish: Instant;
  readonly people: readonly number[];
  readonly machine: number | null;
  readonly machineUnit: number | null;
}

/** One schedule that these hands and machines can do. Arrays are indexed by lot. */
export interface Schedule {
  readonly starts: Int32Array;
  readonly finishes: Int32Array;
  readonly placements: readonly Placement[];
  /** An activity list of it, with what was chosen for the lots: lot indices in order of priority. */
  readonly activityList: Int32Array;
  /** Finish of the last lot of the workshop, and of the last lot of all. */
  readonly readyAt: Instant;
  readonly finishAt: Instant;
}
