/**
 * Everything the tool says of a build: what the engine returns, the store keeps, `daywright plan --json` prints and the
 * views show. Plain data. Instants are whole minutes since the epoch (UTC), lengths whole minutes, unless a name says
 * otherwise.
 */
import type { ForecastBalance } from './answers/balance.ts';
import type { ForecastRisk, RiskFrom } from './answers/risk.ts';
import type { ForecastShow } from './answers/show.ts';
import type { ForecastLoads, ForecastMoney, ForecastSupply } from './answers/supplies.ts';
import type { FreeUntil } from './changes/levers.ts';
import type { Origin } from './common.ts';
import type { Doubt, Missing, PaceNote, SoundnessCheck, Threat, WorkHoursWarning } from './findings.ts';
import type { ParameterOrigin } from './parameter.ts';
import type { Source, Unchecked } from './part.ts';
import type { Problem } from './problem.ts';
import type { Hazard, HazardGuess } from './step.ts';

/**
 * Raise it whenever what a forecast holds, or how it is worked out, changes: what an older program has kept on disk is
 * then computed anew instead of shown.
 */
export const FORECAST_FORMAT = 25;

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

/** Where a lot lies in the schedule that the hands and machines can really do; null when it could not be placed. */
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

export interface ForecastParameter {
  readonly name: string;
  /** null when it could not be computed. */
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly formula: string | null;
  readonly unit: string | null;
  readonly origin: ParameterOrigin | null;
}

/** A limit of the design, with what it comes to. */
export interface ForecastLimit {
  readonly id: string;
  readonly name: string;
  readonly unit: string | null;
  /** By the likely values; null where it could not be computed. */
  readonly value: number | null;
  /** The least and the most over what its parameters may still be; the value itself where all are known. */
  readonly low: number | null;
  readonly high: number | null;
  readonly least: number | null;
  readonly most: number | null;
  /** `may-break`: kept by the likely values, and broken by others that its parameters may still have. */
  readonly state: 'kept' | 'may-break' | 'broken' | 'unknown';
  /** Ids of the parts it concerns. */
  readonly parts: readonly string[];
}

/** A parameter that is known only as low, likely and high, and what hangs on it. */
export interface ForecastUncertain {
  readonly parameter: string;
  readonly unit: string | null;
  readonly low: number;
  readonly likely: number;
  readonly high: number;
  /** Units to start or to buy of each part whose count changes with it; null where it cannot be counted. */
  readonly parts: readonly {
    readonly part: string;
    readonly low: number | null;
    readonly likely: number;
    readonly high: number | null;
  }[];
  /** What must be ordered more for the high, by order; `cost` null where nobody has said what one costs. */
  readonly orders: readonly { readonly step: string; readonly more: number; readonly cost: number | null }[];
  /**
   * The last moment to find out: before the first order that its value sets, the first unit that only some of its
   * values need, and the first unit of a drawing that depends on it. Null: nothing waits for it any more.
   */
  readonly settleBy: number | null;
  /** Steps and orders that wait for it. */
  readonly waits: readonly string[];
}

export interface ForecastPart {
  readonly id: string;
  readonly name: string;
  readonly source: Source;
  /** Needed in the piece, spares not counted. */
  readonly need: number;
  readonly spares: number;
  /** Of `need`, its own count; the rest goes into other parts. Left out of what an older program kept. */
  readonly ownNeed?: number;
  readonly onHand: number;
  /**
   * What is measured: its unit, and how much of it a pack holds. Need, spares, what is on hand, to make and to buy are
   * then amounts of it. Left out of what is counted in pieces.
   */
  readonly measure?: { readonly unit: string; readonly pack: number };
  /** Share that comes out good, as planned with. */
  readonly yield: number;
  /**
   * What `yield` was learnt from: the share that was given, and the units begun and scrapped since. Left out while it
   * is as given.
   */
  readonly yieldLearnt?: {
    readonly given: number;
    readonly tried: number;
    readonly scrapped: number;
    readonly origin: Origin;
  };
  /** To start so that enough come out good, at the build's confidence. */
  readonly toMake: number;
  readonly packs: number | null;
  /** What is bought: packs x pack size; null for made parts. */
  readonly toBuy: number | null;
  readonly cost: number | null;
  readonly supplier: string | null;
  readonly revision: string | null;
  readonly dependsOn: readonly string[];
  readonly usedIn: readonly { readonly part: string; readonly count: number }[];
  /** Units made before a change that nobody has looked at; left out where there are none. */
  readonly unchecked?: readonly Unchecked[];
  /** Good units at the end of its route so far, scrapped so far. */
  readonly good: number;
  readonly scrapped: number;
  /** When one more would be here if it were ordered now; null for what is made here or comes from nobody named. */
  readonly againAt?: number | null;
  /**
   * The last moment to order one more that is here by the ready-by, an express counted; null where `againAt` is, or too
   * late.
   */
  readonly spareBy?: number | null;
  /** Spares that last at the build's confidence, by how many are expected to fail; left out where nobody has said. */
  readonly sparesWanted?: number;
}

export interface StepLink {
  readonly step: string;
  readonly type: string;
  readonly ratio: number | null;
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

const STEP_STATES = ['not-begun', 'under-way', 'done'] as const;

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
  /** Loads that are back, and the middle of those of them that are believed. */
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
   * Of a gate: the chance that its next try fails, by what was given and by its tries so far. Left out of what is none.
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
  /** Of a gate: what a failure sends back. */
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

/** So many units of a step. */
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
}

/** Needed against offered before the ready-by, for a group of hands that can stand in for each other, or a machine. */
export interface CapacityGroup {
  readonly id: string;
  readonly name: string;
  readonly kind: 'people' | 'machine';
  readonly members: readonly string[];
  readonly neededMinutes: number;
  readonly offeredMinutes: number;
  /** Positive when it cannot be done. */
  readonly shortMinutes: number;
  /** The first minute by which the hours offered cover what is needed; null when they never do. */
  readonly coveredAt: number | null;
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

/**
 * A better order of work that is known but not worth what it upsets: working minutes it would gain, lots it would move.
 */
interface KeptOrder {
  readonly minutes: number;
  readonly upsets: number;
}

export interface ForecastOrder {
  readonly step: string;
  readonly part: string | null;
  readonly name: string;
  readonly supplier: string;
  readonly units: number;
  /** What is measured: `units` are packs of so much of its unit. Left out of what is counted in pieces. */
  readonly measure?: { readonly unit: string; readonly pack: number };
  /** Last moment to order so that nothing slips, cut-off counted. */
  readonly orderBy: number;
  readonly arrives: number;
  readonly neededBy: number;
  readonly state: 'to-order' | 'ordered' | 'received' | 'late';
  readonly kind: 'buy' | 'send-out';
  /** Units more than these if every parameter that is not known yet came out so; left out where it sets none. */
  readonly forHigh?: { readonly more: number; readonly cost: number | null };
  /** Working days as given, and as planned with after so many deliveries of the supplier. Left out before the first. */
  readonly lead?: {
    readonly given: number;
    readonly planned: number;
    readonly deliveries: number;
    readonly origin: Origin;
  };
}

export interface ForecastDecision {
  readonly id: string;
  readonly question: string;
  /** The parameter whose value is the answer, which a trial settles; left out of a question that somebody typed. */
  readonly settles?: string;
  readonly decideBy: number | null;
  readonly decided: string | null;
  readonly waits: readonly string[];
  /** Of an open one whose answers carry changes: until when each is still possible; null: no longer, or not told. */
  readonly answers?: readonly { readonly name: string; readonly by: number | null }[];
}

/** What is wanted before the rest: a part, or a step, with a due instant of its own. */
export interface ForecastDue {
  readonly list: 'parts' | 'steps';
  readonly id: string;
  readonly name: string;
  readonly at: number;
  /** Units left for the piece at its last step. */
  readonly left: number;
  /** When the last of them is finished as planned, or was; null where they could not all be placed. */
  readonly finish: number | null;
  /** Room to it, in clock and in working minutes; negative: late. Null where `finish` is. */
  readonly clock: number | null;
  readonly working: number | null;
}

export interface DaySpell {
  readonly start: number;
  readonly finish: number;
  readonly lot: string;
  readonly step: string;
  readonly set: number | null;
  readonly units: number;
  readonly kind: 'hands' | 'load' | 'unload' | 'run';
  readonly hazards: readonly Hazard[];
  readonly pinned?: boolean;
}

/** A day sheet: people and machines as its columns. */
export interface DaySheet {
  readonly date: string;
  readonly start: number;
  readonly end: number;
  readonly people: readonly {
    readonly id: string;
    readonly name: string;
    readonly open: readonly (readonly [number, number])[];
    readonly spells: readonly DaySpell[];
  }[];
  readonly machines: readonly {
    readonly id: string;
    readonly name: string;
    readonly unit: number;
    readonly spells: readonly DaySpell[];
  }[];
  readonly orders: readonly { readonly step: string; readonly name: string; readonly by: number }[];
  readonly decisions: readonly {
    readonly id: string;
    readonly question: string;
    readonly settles?: string;
    readonly by: number;
  }[];
  readonly arrivals: readonly { readonly step: string; readonly name: string; readonly at: number }[];
}

/**
 * Remaining units over time. `counted` from the log up to now, `planned` from the first schedule, `needed` from now to
 * the latest finish.
 */
export interface BurnLine {
  /** null: all steps together, in minutes of hands; otherwise the units of that step. */
  readonly step: string | null;
  readonly unit: string;
  readonly total: number;
  readonly left: number;
  readonly counted: readonly (readonly [number, number])[];
  readonly planned: readonly (readonly [number, number])[];
  readonly needed: readonly (readonly [number, number])[];
  /** Units (or minutes) an open hour that must be done from now to the last moment; null when that is too short. */
  readonly neededPerHour: number | null;
  readonly countedPerHour: number | null;
  /** What the first schedule said would be left by now; null where there was none. */
  readonly plannedLeft?: number | null;
}

/**
 * The plan that `planned` is of. `open`: nothing is counted yet, so it is the plan as it stands; `kept`: as it stood
 * when the first thing was counted; `present`: made afterwards, of the build as it is now.
 */
export type ForecastFirstPlan =
  | { readonly kind: 'open' | 'present' }
  | { readonly kind: 'kept'; readonly revision: number };

export interface ParameterUse {
  readonly parameter: string;
  readonly parts: readonly string[];
  readonly steps: readonly string[];
}

export interface Forecast {
  readonly build: { readonly id: string; readonly name: string; readonly zone: string };
  readonly now: number;
  readonly start: number | null;
  readonly event: number;
  readonly loadIn: number | null;
  readonly readyBy: number;
  readonly setCount: number;
  readonly setName: string;
  readonly currency: string;
  readonly confidence: number;
  readonly parameters: readonly ForecastParameter[];
  readonly uses: readonly ParameterUse[];
  /** Left out of what an older program kept. */
  readonly limits?: readonly ForecastLimit[];
  readonly uncertain?: readonly ForecastUncertain[];
  readonly parts: readonly ForecastPart[];
  readonly steps: readonly ForecastStep[];
  readonly lots: readonly ForecastLot[];
  /** Lot ids from now to the end, hands and machines unlimited. */
  readonly criticalPath: readonly string[];
  /**
   * What somebody must say before there is a date, or a chance; none where all is said. Left out of what an older
   * program kept.
   */
  readonly missing?: readonly Missing[];
  readonly room: { readonly readyBy: Room; readonly loadIn: Room | null; readonly event: Room };
  readonly lowerBound: LowerBound | null;
  /** From now to the ready finish. */
  readonly why?: readonly WhyLine[];
  readonly keptOrder?: KeptOrder | null;
  readonly capacity: readonly CapacityGroup[];
  readonly orders: readonly ForecastOrder[];
  /** What comes from outside, what is urgent first. Left out of what an older program kept, as the two below. */
  readonly supplies?: readonly ForecastSupply[];
  /**
   * Where the ready-by is missed as planned: until when what is to be ordered and decided can wait before it costs the
   * planned finish something; left out where it is kept.
   */
  readonly freeUntil?: readonly FreeUntil[];
  readonly loads?: readonly ForecastLoads[];
  readonly money?: ForecastMoney;
  readonly decisions: readonly ForecastDecision[];
  /** What has a due instant of its own, the earliest first; none where nothing has. */
  readonly dues?: readonly ForecastDue[];
  readonly days: readonly DaySheet[];
  readonly burn: readonly BurnLine[];
  readonly firstPlan?: ForecastFirstPlan | null;
  /** null where nothing could be placed. */
  readonly balance?: ForecastBalance | null;
  readonly workHours: readonly WorkHoursWarning[];
  /** Errors name what had to be left out, warnings what to look at. */
  readonly problems: readonly Problem[];
  /** What is kept and planned with, but should be looked at. */
  readonly doubts: readonly Doubt[];
  /** Left out of a first answer; null when there is nothing to draw, or a step that nobody may do. */
  readonly risk?: ForecastRisk | null;
  /** Where the risk is not this forecast's own: the older state that it was drawn from, until the new one is. */
  readonly riskFrom?: RiskFrom;
  /** Worst first; none when all is well. */
  readonly threats?: readonly Threat[];
  /** The checks that apply now, those that are fine too. */
  readonly soundness?: readonly SoundnessCheck[];
  /** Boxes, ways to the site, points, run sheet, open points. Left out of what an older program kept. */
  readonly show?: ForecastShow;
  /** False when something could not be scheduled: dates are then of what remains. */
  readonly complete: boolean;
}
