/** The ripple of a change: what depends on it, what is made to the old value, and what the maker says of that. */
import type { MadeAt } from './part.ts';

/** Units of a part in one state. `step`: the last one passed, the one that took them, or the order; null on hand. */
export interface MadeUnits {
  readonly part: string;
  readonly at: MadeAt;
  readonly step: string | null;
  readonly units: number;
}

/** A number before and after a change; null where it cannot be worked out. */
interface BeforeAfter {
  readonly before: number | null;
  readonly after: number | null;
}

export interface RippleLimit {
  readonly limit: string;
  readonly name: string;
  readonly unit: string | null;
  /** After the change. */
  readonly value: number | null;
  readonly least: number | null;
  readonly most: number | null;
  readonly isBroken: boolean;
  readonly wasBroken: boolean;
}

/** A part in a box that a change reaches: this many of it, as the box says. */
interface RippleBoxed extends BeforeAfter {
  readonly part: string;
  readonly spare: boolean;
}

/** All that a change reaches, by their ids, in the order of the build. */
export interface Ripple {
  /** What was changed, in symbols: `drop 480 → 500`. */
  readonly because: string;
  readonly sets: BeforeAfter | null;
  readonly parameters: readonly (BeforeAfter & { readonly name: string })[];
  /** Whether what each of them is depends on the change, and whether how many; units to start or to buy. */
  readonly parts: readonly (BeforeAfter & {
    readonly part: string;
    readonly drawing: boolean;
    readonly count: boolean;
  })[];
  /** Steps, gates and orders: their units, what is worked on, their minutes, what they wait for. */
  readonly steps: readonly {
    readonly step: string;
    readonly units: boolean;
    readonly work: boolean;
    readonly time: boolean;
    readonly link: boolean;
  }[];
  /** Boxes, with the parts in them that are others, and those whose number may be another. */
  readonly boxes: readonly { readonly box: string; readonly name: string; readonly parts: readonly RippleBoxed[] }[];
  /** Points to hang from, in kg. */
  readonly points: readonly (BeforeAfter & { readonly point: string; readonly name: string })[];
  /** Jobs of the strike, in minutes. */
  readonly strike: readonly (BeforeAfter & { readonly job: string; readonly name: string })[];
  readonly limits: readonly RippleLimit[];
  /** Units that are made or ordered so far of the parts whose drawing depends on it. */
  readonly made: readonly MadeUnits[];
}

/** A part that units of another might still become. */
export interface CouldUse {
  readonly part: string;
  /** Units of it that are still to be begun. */
  readonly left: number;
  /** What goes into both, and what both drawings rest on. */
  readonly materials: readonly string[];
  readonly parameters: readonly string[];
}

/** Parts that units of another might still become: how many there are, and the first of them. */
export interface CouldUseList {
  readonly count: number;
  readonly parts: readonly CouldUse[];
}

/** What the maker says of the units in one state: how many are still good, to be reworked, scrap. */
export interface RippleAnswer extends Omit<MadeUnits, 'units'> {
  readonly good: number;
  readonly rework: number;
  readonly scrap: number;
  /** The steps that rework does again, each with its minutes a unit (null: as it was) and the name of the new step. */
  readonly redo: readonly { readonly step: string; readonly minutes: number | null; readonly name: string }[];
}

/** An entry to log with an answer; `at` left out: now. */
export type RippleEntry =
  | { readonly kind: 'sent-back'; readonly step: string; readonly n: number }
  | { readonly kind: 'undo'; readonly undoes: string }
  | {
      readonly kind: 'ordered';
      readonly step: string;
      readonly n: number;
      readonly set?: number;
      readonly at: string;
    };

/** What is asked before a change is saved. */
export interface RippleAsked {
  readonly ripple: Ripple;
  /** The units that are asked about. */
  readonly made: readonly MadeUnits[];
  /** They are units that an earlier change left unchecked. */
  readonly isAnswer: boolean;
  /** By part that is asked about, what could use its units. */
  readonly couldUse: Readonly<Record<string, CouldUseList>>;
}
