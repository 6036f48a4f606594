/** A step as the rest of the engine knows it: its units by set and its work pattern. */
import type { Gate, Hazard, Origin, Problem, Step } from '../../model/index.ts';
import type { OpenStart, StepTally } from '../log/index.ts';
import type { Instant, Minutes } from '../types.ts';
import type { PlannedPhase } from './step-phases.ts';

/** A pin with its instants and people found. Units are counted within the set where one is named, else over all. */
export interface PlannedPin {
  /** Where it is in the build, such as `steps.paint.pins.1`. */
  readonly field: string;
  readonly set: number | null;
  readonly firstUnit: number;
  readonly lastUnit: number;
  readonly start: Instant | null;
  readonly people: readonly number[] | null;
}

/** A pin laid on the units of one set, in absolute numbers. */
export interface PinnedUnits extends PlannedPin {
  readonly from: number;
  readonly to: number;
}

/** The units of a step in one set (or in the whole). */
export interface PlannedSet {
  readonly set: number | null;
  /** Absolute number of the unit before its first. */
  readonly offset: number;
  readonly total: number;
  /** Units of `total` that the piece needs; those after them are spares. */
  readonly needed: number;
  /** Good units that have passed and still count; never more than `total`. */
  readonly done: number;
  /** The same, those beyond `total` too. */
  readonly counted: number;
  readonly left: number;
  readonly scrapped: number;
  readonly starts: readonly OpenStart[];
}

export interface PlannedStep {
  readonly id: string;
  readonly name: string;
  readonly kind: 'step' | 'order' | 'gate';
  readonly part: string | null;
  readonly step: Step | null;
  readonly gate: Gate | null;
  readonly perSet: boolean;
  /** Whether its units are counted, as opposed to a single job. */
  readonly counted: boolean;
  readonly sets: readonly PlannedSet[];
  readonly total: number;
  readonly left: number;
  /** Units left that are not spares. */
  readonly neededLeft: number;
  readonly lotSize: number;
  /** Nobody has said how many units a lot is: see `assumedLotSize`. */
  readonly isLotAssumed: boolean;
  readonly stations: number | null;
  readonly setupMinutes: Minutes;
  readonly setupEachLot: boolean;
  readonly learningRate: number;
  readonly phases: readonly PlannedPhase[];
  readonly onSite: boolean;
  readonly notBefore: string | null;
  /** When its units, spares aside, are wanted though the rest may come later: the earlier of its own and its part's. */
  readonly due: Instant | null;
  readonly pinnedPeople: readonly number[] | null;
  readonly pins: readonly PlannedPin[];
  readonly hazards: readonly Hazard[];
  readonly origin: Origin | null;
  readonly tally: StepTally;
}

export interface PlannedSteps {
  readonly steps: readonly PlannedStep[];
  readonly problems: readonly Problem[];
}

/** A step before its units are counted. */
export type Counted = Omit<PlannedStep, 'sets' | 'total' | 'left' | 'neededLeft'>;

/** The same, with the count it has of its own. */
export type Draft = Counted & {
  /** Units in each set (or in the whole) for what has a count of its own; null for the units of its part. */
  readonly ownCount: number | null;
};
