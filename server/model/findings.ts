/**
 * What is found in a plan, as facts: what threatens the date, hours that wear people out or leave something dangerous
 * unwatched, and whether the plan is sound. A code and its values; the sentences are made of them in the views.
 * Instants and lengths as in a forecast; steps, people and machines by their ids unless a name is said.
 */
import type { Hazard } from './step.ts';

/** A step, an order or a machine that is likely to cost the date. */
interface ThreatValues {
  /** Costs most of the end, where the date is late or unlikely. */
  readonly 'slow-step': SlowStepValues;
  /** To be ordered, and past its last moment. */
  readonly 'order-late': OrderThreatValues;
  /** To be ordered, on its last day. */
  readonly 'order-today': OrderThreatValues;
  /** Under way, and overdue, late, or what most often holds up an end that is unlikely. */
  readonly 'late-delivery': {
    readonly name: string;
    readonly units: number;
    /** As promised by the supplier, else as the lead time says; `overdue`: that has passed. */
    readonly expected: number;
    readonly promised: boolean;
    readonly overdue: boolean;
    readonly neededBy: number;
    readonly holdsUp: readonly string[];
  };
  /** A machine whose hours are what the end waits for. */
  readonly 'short-machine': {
    readonly machine: string;
    /** Minutes of runs before the ready-by, and minutes that the machine has until then. */
    readonly neededMinutes: number;
    readonly offeredMinutes: number;
    readonly holdsUp: readonly string[];
  };
  /** More units go wrong than was thought, so that more are made. */
  readonly scrap: {
    readonly scrapped: number;
    readonly tried: number;
    /** The share that was thought to go wrong. */
    readonly expected: number;
    readonly left: number;
    readonly holdsUp: readonly string[];
  };
  /** Nobody has decided what steps wait for. */
  readonly decision: {
    readonly question: string;
    /** The parameter whose value nobody knows yet, where that is the question. */
    readonly settles?: string;
    readonly decideBy: number;
    readonly waits: readonly string[];
  };
  /** Stands idle tonight while lots wait for it, though somebody is there until `loadBy` to load it. */
  readonly 'idle-machine': {
    readonly machine: string;
    readonly units: number;
    readonly runMinutes: number;
    readonly loadBy: number;
    /** The step's hazards that somebody should watch. */
    readonly hazards: readonly Hazard[];
    readonly from: number;
    readonly until: number;
  };
  /** Should run, but nothing was logged for days. */
  readonly 'silent-step': { readonly left: number; readonly readyNow: number; readonly lastLogged: number };
  /** The plan leans on them. */
  readonly nights: { readonly nights: number; readonly minutes: number; readonly first: number };
  /**
   * Comes from outside, and fewer to spare than are wanted: another can be had only if it is ordered by `spareBy`, or
   * (null) not any more.
   */
  readonly 'no-spare': {
    readonly parts: readonly {
      readonly name: string;
      readonly need: number;
      /** To spare, and how many should be; 1 where nobody has said what may fail. */
      readonly has: number;
      readonly wanted: number;
      readonly spareBy: number | null;
      readonly againAt: number;
    }[];
    readonly readyBy: number;
  };
  /**
   * A limit of the design that is broken, or that may come out so (`low` and `high`: over what is not known yet);
   * `parts` by their names.
   */
  readonly limit: {
    readonly id: string;
    readonly name: string;
    readonly unit: string | null;
    readonly value: number | null;
    readonly low: number;
    readonly high: number;
    readonly least: number | null;
    readonly most: number | null;
    readonly isBroken: boolean;
    readonly parts: readonly string[];
  };
  /** Units of a part that were made or ordered before a change, and that nobody has looked at since. */
  readonly unchecked: {
    readonly part: string;
    readonly name: string;
    readonly units: number;
    readonly because: string | null;
  };
  /** Wanted before the rest, and late as planned or unlikely to be there. */
  readonly due: {
    readonly name: string;
    readonly at: number;
    readonly left: number;
    readonly finish: number | null;
    /** Share of the futures in which it is there by then; null where none were drawn. */
    readonly chance: number | null;
  };
  /** Something is logged of a later hour than the plan. */
  readonly 'old-plan': { readonly last: number; readonly minutes: number };
}

export interface SlowStepValues {
  readonly left: number;
  readonly total: number;
  /** Minutes of hands that are left. */
  readonly handsMinutesLeft: number;
  readonly minutesPerUnit: number | null;
  /**
   * Units a working hour; `neededPerHour` null: the hours left for it are too few; both left out where a pace says
   * nothing.
   */
  readonly pace: { readonly neededPerHour: number | null; readonly countedPerHour: number | null } | null;
  /** Its last moment. */
  readonly by: number;
  /** Work on site that would have to begin before this load-in: there are too few hours from there to the event. */
  readonly noHoursAfter: number | null;
  readonly waiting: readonly string[];
  /**
   * `likely`: minutes that it costs on average; `late`: minutes by which the plan runs past `by`; `driving`: the share
   * of the futures in which it holds up the end; `misses`: the share of those in which the event is missed, where that
   * is for its own sake.
   */
  readonly cause:
    | { readonly kind: 'likely' | 'late'; readonly minutes: number }
    | { readonly kind: 'driving' | 'misses'; readonly share: number };
}

interface OrderThreatValues {
  readonly name: string;
  readonly kind: 'buy' | 'send-out';
  readonly units: number;
  readonly orderBy: number;
  /** When it would be here as planned, and by express where that is sooner. */
  readonly arrives: number;
  readonly express: number | null;
  readonly neededBy: number;
  readonly holdsUp: readonly string[];
}

export type ThreatCode = keyof ThreatValues;

/** A threat of one code, or of any. */
export type Threat<Code extends ThreatCode = ThreatCode> = {
  readonly [C in Code]: {
    readonly code: C;
    readonly step: string | null;
    /** What it is likely to cost, in clock minutes; 0 where that cannot be told. */
    readonly costMinutes: number;
    /**
     * The instant from which it has threatened: known from plan and log, else when a forecast first saw it without a
     * break.
     */
    readonly since: number;
    readonly values: ThreatValues[C];
  };
}[Code];

export const WORK_HOURS_CODES = [
  'rest', // too little of it between two days
  'week', // too many hours in seven days, or on average
  'no-day-off',
  'break', // none in a long stretch of work
  'long-shift',
  'night-hours', // too many in shifts at night, on average
  'nights-in-a-row',
  'night',
  'alone', // at something dangerous
  'unattended', // a run or a wait of something dangerous, at any hour
  'unattended-night', // a machine runs by itself through the night
] as const;

/** Hours that wear people out, or that leave something dangerous unwatched. */
/** Why there is no date yet: what somebody must say first. Names as in the build. */
export type Missing =
  /** Made here, and no step works on them. */
  | {
      readonly code: 'no-step';
      readonly parts: readonly { readonly part: string; readonly name: string; readonly units: number }[];
    }
  /** Steps for which nobody has said how long they take. */
  | { readonly code: 'no-time'; readonly steps: readonly string[] }
  /** Steps that nobody may do, or has hours for. */
  | { readonly code: 'nobody'; readonly steps: readonly string[] }
  /** More lots than are planned, and the step that has most: there are dates with unlimited hands, and a bound. */
  | {
      readonly code: 'too-many-lots';
      readonly lots: number;
      readonly most: number;
      readonly step: string;
      readonly lotsOfStep: number;
      readonly lotSize: number;
    };

/** Steps that nobody may do, or has hours for: where nobody is in them, somebody is missing. */
export function stepsOfNobody({ missing = [] }: { readonly missing?: readonly Missing[] }): ReadonlySet<string> {
  return new Set(missing.flatMap((one) => (one.code === 'nobody' ? one.steps : [])));
}

export interface WorkHoursWarning {
  readonly code: (typeof WORK_HOURS_CODES)[number];
  /** Whose hours; null: a machine's. */
  readonly person: string | null;
  /** When it begins; of a rest that is too short, when it ends. */
  readonly at: number;
  /**
   * Minutes of what is warned of: the rest, the work of the week, the longest rest of seven days, the longest stretch
   * without a break, the longest shift, the average of the shifts at night, the hours of the nights, alone, unwatched.
   */
  readonly minutes: number;
  /** For an average: over how many weeks; else null. */
  readonly weeks: number | null;
  /** In how many nights a machine runs by itself, or somebody works; else null. */
  readonly nights: number | null;
  readonly steps: readonly string[];
  readonly hazards: readonly Hazard[];
  readonly machine: string | null;
  /** What goes on unwatched; else null. */
  readonly phase: 'run' | 'wait' | null;
  /** A hazard makes it worse. */
  readonly strong: boolean;
}

/** What a check of the plan found, by its code; `null`: its numbers and its steps say all. */
export interface SoundnessValues {
  /** Leads nowhere, or begins on site out of nothing: steps that no problem names already. */
  readonly 'missing-logic': { readonly ends: readonly string[]; readonly begins: readonly string[] };
  readonly 'negative-lag': { readonly lags: readonly LagFound[] };
  readonly 'unnamed-lag': { readonly lags: readonly LagFound[] };
  readonly 'fixed-start': null;
  /** No chain from now to the end. */
  readonly 'broken-path': null;
  readonly 'high-slack': { readonly slacks: readonly MinutesOfStep[] };
  readonly 'negative-slack': { readonly worst: MinutesOfStep };
  /**
   * Critical path length index: minutes of the longest chain and minutes there are, working ones (`byHands`) or on the
   * clock.
   */
  readonly 'path-index': { readonly length: number; readonly left: number; readonly byHands: boolean };
  /** A made part without a step. */
  readonly 'no-route': { readonly parts: readonly { readonly name: string; readonly toMake: number }[] };
  /** Nothing packs, drives, tests … */
  readonly 'missing-kind': { readonly kinds: readonly MissingKind[] };
  readonly 'no-hands': null;
  readonly 'no-minutes': null;
  readonly guessed: null;
  /** Lots longer than `days` working days of this many minutes. */
  readonly 'long-lot': { readonly days: number; readonly dayMinutes: number };
  /** Hangs above people or is mains, and nobody competent is named who signs for it. */
  readonly unsigned: { readonly open: readonly UnsignedStep[] };
  /** Lots, steps and parts do not add up. */
  readonly totals: null;
  /** Counted in the future, planned in the past: the lots of these steps. */
  readonly 'invalid-date': { readonly lots: number };
  readonly 'no-first-plan': null;
  /** Due by the first plan and not done, in lots; and in units by step. */
  readonly missed: {
    readonly due: number;
    readonly lots: number;
    readonly behind: readonly { readonly step: string; readonly done: number; readonly due: number }[];
  };
  /** Done against due by the first plan, in lots. */
  readonly 'execution-index': { readonly done: number; readonly due: number };
  readonly 'no-chance': null;
  readonly 'stale-log': { readonly minutes: number };
}

export interface LagFound {
  readonly from: string;
  readonly to: string;
  readonly minutes: number;
}

/** `gate`: one at which somebody could sign, but no name is there; null: no gate comes after the step. */
export interface UnsignedStep {
  readonly step: string;
  readonly hazard: Hazard;
  readonly gate: string | null;
}

interface MinutesOfStep {
  readonly step: string;
  readonly minutes: number;
}

export type MissingKind = 'testing' | 'packing' | 'drive' | 'load-in' | 'drying';

export type SoundnessCode = keyof SoundnessValues;

/** One test of the plan as a plan. */
export type SoundnessCheck<Code extends SoundnessCode = SoundnessCode> = {
  readonly [C in Code]: {
    readonly code: C;
    readonly fine: boolean;
    /** How many were found, or the index. */
    readonly value: number;
    /** What the value is out of; null for an index. */
    readonly of: number | null;
    /** The most that is still fine: a share of `of`; for an index the least. */
    readonly limit: number;
    readonly steps: readonly string[];
    /** It is among the problems or the threats already. */
    readonly saidElsewhere: boolean;
    /** null where it is fine. */
    readonly values: SoundnessValues[C] | null;
  };
}[Code];

/**
 * What surprises in a pace, what changed, what stands out, what could not be timed. Minutes a unit unless said
 * otherwise.
 */
export type PaceNote =
  /** So far from the estimate that it is said, or (`asked`) that a person is asked. */
  | {
      readonly code: 'far';
      readonly units: number;
      readonly each: number;
      readonly expected: number;
      readonly asked: boolean;
    }
  /** From `before` to `since`, before the instant `at`. */
  | { readonly code: 'changed'; readonly at: number; readonly before: number; readonly since: number }
  /** Shares of the time at each doubling of the units: by these counts, and as it was given (1: none). */
  | { readonly code: 'learnt'; readonly counts: number; readonly rate: number; readonly given: number }
  /** One count far from the others; `weight`: how far it is believed, 0 to 1. */
  | {
      readonly code: 'stands-out';
      readonly at: number;
      readonly units: number;
      readonly minutes: number;
      readonly others: number;
      readonly weight: number;
    }
  /** One load of a machine, or one wait, far from the others, in minutes of the whole. */
  | {
      readonly code: 'load-stands-out';
      readonly at: number;
      readonly units: number;
      readonly minutes: number;
      readonly others: number;
      readonly weight: number;
    }
  /** Units counted in a time that cannot be told. */
  | { readonly code: 'untimed'; readonly units: number };

/** What in a log, or in what a build says, is kept and planned with, but looks as if somebody should look at it. */
export interface DoubtValues {
  /** Though the build began then. */
  readonly 'nothing-logged': { readonly start: number };
  /**
   * This many entries of a wrong clock, the first of this kind and hour: ahead of now, or long before the build begins.
   */
  readonly 'wrong-clock': {
    readonly entries: number;
    readonly at: number;
    readonly kind: string;
    readonly lies: 'ahead' | 'before';
  };
  /** Nothing logged from `from` to `to`; null: until now. */
  readonly 'log-gap': { readonly from: number; readonly to: number | null; readonly minutes: number };
  readonly 'same-name': {
    readonly list: 'people' | 'machines' | 'suppliers';
    readonly ids: readonly string[];
    readonly name: string;
  };
  /** More units of a step than planned, for scrap, take more of a part than its spares. */
  readonly 'scrapped-parts': {
    readonly step: string;
    readonly units: number;
    readonly part: string;
    readonly asked: number;
    readonly spares: number;
  };
  /** More units are through a later step of the same part than are counted at `step`, which has some left. */
  readonly 'passed-more': {
    readonly step: string;
    readonly counted: number;
    readonly later: string;
    readonly passed: number;
  };
  /** Runs that begin as planned while nobody is there, of steps that have no hands to load them; `first` of them. */
  readonly 'nobody-loads': { readonly steps: readonly string[]; readonly runs: number; readonly first: number };
  readonly 'gate-chance': { readonly name: string; readonly fails: 'always' | 'never' };
  /** Nobody has an hour from now to the ready-by. */
  readonly 'no-hours': { readonly readyBy: number };
  /** Measured so far from its estimate that a person is asked. */
  readonly 'far-pace': { readonly step: string; readonly notes: readonly PaceNote[] };
}

export type DoubtCode = keyof DoubtValues;

/** `field`: a path into the build or its log, as in a problem. */
export type Doubt<Code extends DoubtCode = DoubtCode> = {
  readonly [C in Code]: { readonly code: C; readonly field: string; readonly values: DoubtValues[C] };
}[Code];
