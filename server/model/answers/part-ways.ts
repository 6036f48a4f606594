/**
 * Make or send out: the ways of a part beside each other, and the part split between two. Facts only; the sentences are
 * made of them in the views. Instants and lengths as in a forecast.
 */

import type { Change } from '../changes/change.ts';
import type { Source } from '../part.ts';
import type { Problem } from '../problem.ts';
import type { LeverWorth } from './levers.ts';

/**
 * Until when a way is still possible: until an instant before it costs the ready-by; where the date is missed that way,
 * until an instant before it costs the finish that it has; under way already; or nothing is left to do.
 */
export type WayMoment =
  | { readonly kind: 'until' | 'finish'; readonly at: number }
  | { readonly kind: 'under-way' }
  | { readonly kind: 'none' };

/** What one way comes to, all units that are left coming by it. */
export interface WayFigures {
  readonly way: string;
  readonly name: string;
  readonly source: Source;
  /** Whether the plan as it is has it so. */
  readonly isPresent: boolean;
  /** Units that come by it; less than all where some are made by the present way already. */
  readonly units: number;
  /** Minutes of hands and of machines that are left by it and that another way would not take. */
  readonly handsMinutes: number;
  readonly machineMinutes: number;
  /** Null: nothing is ordered. */
  readonly lead: { readonly supplier: string; readonly workingDays: number; readonly arrives: number } | null;
  /** What is paid for all units by it; null: a price is missing. */
  readonly money: number | null;
  readonly last: WayMoment;
  readonly worth: LeverWorth;
  /** None for the present way. */
  readonly changes: readonly Change[];
}

/** A way that cannot be planned. */
export interface WayRefused {
  readonly way: string;
  readonly name: string;
  readonly problems: readonly Problem[];
}

/** From how many units on one way costs less than another, hours of hands counted at their worth. */
export interface CostTurn {
  readonly few: string;
  readonly many: string;
  /** `many` costs no more from this quantity on; 1: at any quantity. */
  readonly from: number;
  readonly upTo: number;
  /** What an hour of hands was counted at. */
  readonly hourWorth: number;
}

/** How many would be made here by the time that what is sent out would be back. */
export interface TimeTurn {
  readonly made: string;
  readonly sent: string;
  readonly units: number;
  readonly arrives: number;
}

/** A part split: a number of units by the other way, the rest by the one chosen. */
export interface WaySplit {
  readonly rest: number;
  readonly units: number;
  /** What is paid for both; null: a price is missing. */
  readonly money: number | null;
  readonly worth: LeverWorth;
  readonly changes: readonly Change[];
}

/** A part with the ways in which it may come about. */
export interface PartWays {
  readonly part: string;
  readonly name: string;
  /** All that are wanted. */
  readonly units: number;
  /** Made or ordered by the present way already. */
  readonly made: number;
  readonly ways: readonly WayFigures[];
  readonly refused: readonly WayRefused[];
  readonly cost: CostTurn | null;
  readonly time: TimeTurn | null;
  /** Between the way chosen and the best other, by rising share of the other; none where nothing can be shared out. */
  readonly between: { readonly chosen: string; readonly other: string } | null;
  readonly splits: readonly WaySplit[];
  /** The place of the best among `splits`, where one is better than all by one way by more than its error. */
  readonly best: number | null;
}

/** All parts of a build with more than one way. */
export interface WaysBeside {
  readonly now: number;
  readonly readyBy: number;
  readonly present: Pick<LeverWorth, 'readyAt' | 'room' | 'chance'> | null;
  readonly parts: readonly PartWays[];
  readonly futures: number;
  /** Whether every part was looked at; false where it was stopped before. */
  readonly isDone: boolean;
}
