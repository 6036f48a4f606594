/** Parameters, limits and parts, with what they come to. Instants in minutes since the epoch, lengths in minutes. */
import type { Origin } from '../common.ts';
import type { ParameterOrigin } from '../parameter.ts';
import type { Source, Unchecked } from '../part.ts';

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
  /** The part whose units these are that come by another of its ways than the chosen one; left out of all others. */
  readonly shareOf?: string;
  /** Needed in the piece, spares not counted. */
  readonly need: number;
  readonly spares: number;
  /** Its own count within `need`; the rest goes into other parts. Left out of what an older program kept. */
  readonly ownNeed?: number;
  readonly onHand: number;
  /**
   * What is measured: its unit, and how much of it a pack holds. Need, spares, what is on hand, to make and to buy,
   * good and scrapped are then amounts of it. Left out of what is counted in pieces.
   */
  readonly measure?: { readonly unit: string; readonly pack: number };
  /** Share that comes out good, as planned with. */
  readonly yield: number;
  /**
   * What `yield` was learnt from: the share that was given, and the units begun and scrapped since; and what `toMake`
   * would be by that share. Left out while it is as given.
   */
  readonly yieldLearnt?: {
    readonly given: number;
    readonly tried: number;
    readonly scrapped: number;
    readonly toMakeAsGiven: number;
    readonly origin: Origin;
  };
  /**
   * To start so that enough come out good, at the build's confidence: what its steps have to do in all, and what was
   * scrapped so far.
   */
  readonly toMake: number;
  readonly packs: number | null;
  /** What is bought: packs x pack size; null for made parts. */
  readonly toBuy: number | null;
  /** The cost of all units begun or ordered so far and still to come, as the money says; null without a price. */
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
  /**
   * How much more must come or be made, spares included, before all is there; of what is measured with its waste. Left
   * out of what an older program kept.
   */
  readonly missing?: number;
  /**
   * Units beyond what the piece needs once all is made and bought; what makes up for bad ones is none of it. Left out
   * of what is measured.
   */
  readonly toSpare?: number;
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

export interface ParameterUse {
  readonly parameter: string;
  readonly parts: readonly string[];
  readonly steps: readonly string[];
}
