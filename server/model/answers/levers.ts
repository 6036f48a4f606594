/**
 * Levers: what could be changed to gain time, each as a list of changes with what it costs, and what a search among
 * them found. Facts only; the sentences are made of them in the views. Instants and lengths as in a forecast.
 */

import type { Change } from '../changes/change.ts';
import type { WorkHoursWarning } from '../findings.ts';
import type { Problem } from '../problem.ts';
import type { Difference, FuturesCompared } from './risk.ts';

/** Why hours were added to no more evenings, or by less: rest between two days, a week of 48 hours, midnight. */
export type HoursLimit = 'rest' | 'week' | 'midnight';

/** What each kind of lever changes. Names as in the build. */
export interface LeverValues {
  /** Another pair of hands for one free day. */
  readonly 'helper-day': { readonly day: LeverDay; readonly minutes: number };
  /** The same on every free day until the ready-by. */
  readonly 'helper-days': { readonly days: readonly LeverDay[]; readonly minutes: number };
  /** One more person with the hours of another. */
  readonly 'one-more-person': { readonly like: string };
  /** Somebody stays this many minutes longer on this many days of the week. */
  readonly 'longer-evenings': {
    readonly person: string;
    readonly minutes: number;
    readonly days: number;
    readonly limit: HoursLimit | null;
  };
  readonly 'one-more-machine': { readonly machine: string; readonly count: number };
  /** A part comes about another way. */
  readonly 'other-way': { readonly name: string; readonly from: string; readonly to: string };
  readonly express: { readonly name: string; readonly supplier: string };
  /** Fewer of a parameter or a part. */
  readonly fewer: { readonly name: string; readonly from: number; readonly to: number };
  readonly 'smaller-lots': LotValues;
  readonly 'larger-lots': LotValues;
  /** A step left out that may be. */
  readonly 'left-out': { readonly step: string };
  readonly 'prove-first': { readonly gate: string };
  readonly 'prove-along': { readonly gate: string };
  /** Two share what one does now: either of them does some of it, or both are at it and it takes half as long. */
  readonly 'split-step': { readonly step: string; readonly how: 'either' | 'together'; readonly people: string[] };
  /** Somebody does a step too that they do not do now. */
  readonly 'may-too': { readonly step: string; readonly person: string };
  /** Another does it. */
  readonly 'other-worker': { readonly step: string; readonly from: string; readonly to: string };
  /** Nobody works between midnight and five. */
  readonly 'no-nights': { readonly people: readonly string[] };
}

/** A date, and its weekday from Monday 1 to Sunday 7. */
export interface LeverDay {
  readonly date: string;
  readonly weekday: number;
}

interface LotValues {
  readonly step: string;
  readonly from: number;
  readonly to: number;
  /** Nobody has said how large a lot is. */
  readonly isAssumed: boolean;
}

export type LeverCode = keyof LeverValues;

/** What a lever costs: money (null: not known), and minutes of somebody's time. */
export interface LeverCost {
  readonly money: number | null;
  readonly handsMinutes: number;
}

/** A lever of one code, or of any. */
export type Lever<Code extends LeverCode = LeverCode> = {
  readonly [C in Code]: {
    readonly code: C;
    readonly values: LeverValues[C];
    readonly changes: readonly Change[];
    readonly cost: LeverCost;
  };
}[Code];

/** What most of the chain to the ready finish goes through, and until when. */
export interface Neck {
  readonly kind: 'machine' | 'hands' | 'supplier' | 'wait';
  /** The machine, who does it, the supplier, or the step that waits. */
  readonly name: string;
  readonly until: number;
}

/** Why a lever gains nothing. */
export type LeverReason =
  /** It eases nothing that ever drives the date. */
  | { readonly code: 'off-chain'; readonly neck: Neck | null }
  /** Tried: what then drives the date is as slow. */
  | { readonly code: 'neck'; readonly neck: Neck | null }
  /** Fewer than what is made already. */
  | { readonly code: 'made'; readonly made: number }
  /** The changed plan would be wrong. */
  | { readonly code: 'impossible'; readonly problems: readonly Problem[] }
  /** More levers than are tried: what it eases drives the date less often than theirs. */
  | { readonly code: 'untried' };

/** What a plan with some levers comes to, beside the plan without. */
export interface LeverWorth {
  readonly readyAt: number | null;
  /** Clock minutes before the ready-by; below 0: late. */
  readonly room: number | null;
  /** Share of its futures that are ready in time. */
  readonly chance: number | null;
  /** Null where it was not tried. */
  readonly compared: FuturesCompared | null;
  /** Minutes gained on average and chance gained, per hour that it costs: what the rows are in the order of. */
  readonly score: number;
}

export interface LeverRow extends LeverWorth {
  readonly lever: Lever;
  /** Whether it gains, gains nothing, costs time, or is not to be made. */
  readonly verdict: 'gains' | 'nothing' | 'costs';
  readonly reason: LeverReason | null;
  /** Hours that wear people out which are not in the plan as it is. */
  readonly warnings: readonly WorkHoursWarning[];
  /** Share of the futures in which something that it eases drives the date. */
  readonly drives: number;
}

/** Several levers together, by their places among the rows. */
export interface LeverSet extends LeverWorth {
  readonly rows: readonly number[];
}

/** The last moment of something before which it costs the finish as it is planned nothing. */
export interface FreeUntil {
  readonly kind: 'order' | 'decision';
  readonly id: string;
  readonly name: string;
  readonly until: number;
}

/** What a search for levers has found so far. */
export interface LeverSearch {
  readonly now: number;
  readonly readyBy: number;
  /** Null: the build has no date yet, or nothing is left to do. */
  readonly present: Pick<LeverWorth, 'readyAt' | 'room' | 'chance'> | null;
  readonly neck: Neck | null;
  /** The best first. */
  readonly rows: readonly LeverRow[];
  readonly pair: LeverSet | null;
  readonly triple: LeverSet | null;
  /** Where the plan is late: the fewest levers found that keep the date, or (`keeps` false) all that help. */
  readonly takes: (LeverSet & { readonly keeps: boolean }) | null;
  readonly freeUntil: readonly FreeUntil[];
  /** Both ways through the sets of each gate by sets; none until the search is at its end. */
  readonly sets: readonly SetsCompared[];
  /** Futures of those that were looked at longest. */
  readonly futures: number;
  /** Levers tried so far, of those to try. */
  readonly tried: number;
  readonly toTry: number;
  /** Whether the search came to its end. */
  readonly isDone: boolean;
}

/** One way through the sets of a gate: how it ends, how likely in time, and how much is likely to be done again. */
export interface SetsWay {
  /** On average. */
  readonly readyAt: number;
  readonly chance: number;
  /** Minutes of hands that failures send back, on average. */
  readonly reworkMinutes: number;
}

/** Both ways beside each other. */
export interface SetsWays {
  /** One set through to its gate before the others begin. */
  readonly first: SetsWay;
  /** Step by step over all sets. */
  readonly along: SetsWay;
  /** Minutes by which step by step is ready later, below 0: sooner. */
  readonly later: Difference;
  /** How sure it is that the sign of that is right, 0.5 to 1. */
  readonly sure: number;
}

/** Sets proved first, or not, at one gate. */
export interface SetsCompared {
  readonly gate: string;
  readonly name: string;
  /** Sets that have not passed. */
  readonly sets: number;
  readonly failChance: number;
  /** Where a fault is in every set that is made by then, as of a design that is wrong. */
  readonly onAll: SetsWays;
  /** Where each set fails by itself, as by careless work. */
  readonly onOne: SetsWays;
}

/** What one value of a parameter comes to. */
export interface SizedValue {
  readonly value: number;
  readonly readyAt: number | null;
  readonly chance: number;
  /** Its standard error. */
  readonly error: number;
}

/** How large a parameter may be so that the date is kept. */
export interface Sizing {
  readonly parameter: string;
  readonly unit: string | null;
  readonly now: number;
  readonly present: number;
  /** By rising value. */
  readonly curve: readonly SizedValue[];
  /** For each chance asked for, the largest value found that has it; null: none has. */
  readonly largest: readonly { readonly chance: number; readonly value: number | null }[];
  /** Whether even the largest value that was tried keeps the date so. */
  readonly isOpen: boolean;
  readonly futures: number;
}
